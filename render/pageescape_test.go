package render

import (
	"bytes"
	"fmt"
	htmltemplate "html/template"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// forTemplate is a value as html/template shall see it: structures as maps of what they
// export, and texts that stand as they are in its own types for them.
func forTemplate(v reflect.Value) any {
	if v.Kind() == reflect.Pointer && !v.IsNil() {
		v = v.Elem()
	}
	switch x := v.Interface().(type) {
	case rawHTML:
		return htmltemplate.HTML(x)
	case rawAttr:
		return htmltemplate.HTMLAttr(x)
	case rawCSS:
		return htmltemplate.CSS(x)
	case rawJS:
		return htmltemplate.JS(x)
	case rawURL:
		return htmltemplate.URL(x)
	case fmt.Stringer:
		return x
	}
	switch v.Kind() {
	case reflect.Struct:
		out := map[string]any{}
		for _, f := range reflect.VisibleFields(v.Type()) {
			if f.IsExported() && !f.Anonymous {
				out[f.Name] = forTemplate(v.FieldByIndex(f.Index))
			}
		}
		return out
	case reflect.Slice:
		out := []any{}
		for i := range v.Len() {
			out = append(out, forTemplate(v.Index(i)))
		}
		return out
	}
	return v.Interface()
}

// both writes a model by the program's writer and by html/template.
func both(t *testing.T, templates map[string]*htmltemplate.Template, model any) (got, want string) {
	t.Helper()
	file := "page/page.html"
	writer := func(m markup) { m.page(model.(*pageModel)) }
	if p, ok := model.(*proofModel); ok {
		file, writer = "page/proof.html", func(m markup) { m.proof(p) }
	}
	var a, b bytes.Buffer
	if err := write(&a, writer); err != nil {
		t.Fatal(err)
	}
	if templates[file] == nil {
		var err error
		if templates[file], err = htmltemplate.ParseFiles(file); err != nil {
			t.Fatal(err)
		}
	}
	if err := templates[file].Execute(&b, forTemplate(reflect.ValueOf(model))); err != nil {
		t.Fatal(err)
	}
	return a.String(), b.String()
}

// hostile are texts that try to leave their place.
var hostile = []string{
	"", "plain", "fault", `"><script>alert(1)</script>`, `' onmouseover='x`, "</style><b>", "</title>", "<!--", "-->", "]]>", "&amp;&#34;", "a+b=c",
	"\x00NUL", "\xff\xfe\x80broken", "\ufeff\ufffd\ufdd0\uffff", "line\nline\r\ttab", "javascript:alert(1)", "data:text/html,<b>", "%2", "%zz%41%", "%41", "https://a/b?c=d&e#f[g]@!$*;,",
	"`${x}`", "{{.Title}}", "🧵 ünïcode \u2028\u202e", "\\x3c", "../..", "a b (c) ~._-",
}

// filler fills models with whatever their types may hold.
type filler struct {
	text   func() string
	number func() int
	yes    func() bool
	many   func() int
}

// random fills every field with something hostile, and lists with up to three.
func random(seed uint64) filler {
	r := rand.New(rand.NewPCG(seed, 1))
	return filler{
		text: func() string {
			s := hostile[r.IntN(len(hostile))]
			if r.IntN(3) == 0 {
				s += hostile[r.IntN(len(hostile))]
			}
			return s
		},
		number: func() int { return []int{0, 0, 1, -7, 123456789}[r.IntN(5)] },
		yes:    func() bool { return r.IntN(2) == 0 },
		many:   func() int { return r.IntN(4) },
	}
}

// inTurn gives the fields one hostile text after the other, beginning with the first-th.
func inTurn(first int, yes bool) filler {
	return filler{
		text: func() string {
			first++
			return hostile[first%len(hostile)]
		},
		number: func() int { return 3 },
		yes:    func() bool { return yes },
		many:   func() int { return 2 },
	}
}

func (f filler) fill(v reflect.Value) {
	switch v.Kind() {
	case reflect.String:
		v.SetString(f.text())
	case reflect.Int:
		v.SetInt(int64(f.number()))
	case reflect.Bool:
		v.SetBool(f.yes())
	case reflect.Slice:
		n := f.many()
		if v.Type() == reflect.TypeFor[[]pageFigure]() {
			n = max(n, 1) // every design has one at least
		}
		v.Set(reflect.MakeSlice(v.Type(), n, n))
		for i := range n {
			f.fill(v.Index(i))
		}
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		f.fill(v.Elem())
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				f.fill(v.Field(i))
			}
		}
	}
}

// Whatever stands in any field, pages are byte for byte what html/template makes of them.
func TestPagesEscapeAsTemplates(t *testing.T) {
	fillers := map[string]filler{}
	for seed := range uint64(200) {
		fillers[fmt.Sprint("random ", seed)] = random(seed)
	}
	for first := range hostile {
		fillers[fmt.Sprint("in turn, yes ", first)] = inTurn(first, true)
		fillers[fmt.Sprint("in turn, no ", first)] = inTurn(first, false)
	}
	templates := map[string]*htmltemplate.Template{}
	for name, f := range fillers {
		page, proof := new(pageModel), new(proofModel)
		f.fill(reflect.ValueOf(page).Elem())
		f.fill(reflect.ValueOf(proof).Elem())
		for _, model := range []any{page, proof} {
			if got, want := both(t, templates, model); got != want {
				t.Fatalf("%s, %T:\n%s", name, model, cmp.Diff(strings.SplitAfter(want, ">"), strings.SplitAfter(got, ">")))
			}
		}
	}
}

// Texts that no one thought of.
func FuzzPageEscapes(f *testing.F) {
	for _, s := range hostile {
		f.Add(s)
	}
	templates := map[string]*htmltemplate.Template{}
	f.Fuzz(func(t *testing.T, s string) {
		always := filler{func() string { return s }, func() int { return 1 }, func() bool { return true }, func() int { return 1 }}
		page, proof := new(pageModel), new(proofModel)
		always.fill(reflect.ValueOf(page).Elem())
		always.fill(reflect.ValueOf(proof).Elem())
		for _, model := range []any{page, proof} {
			if got, want := both(t, templates, model); got != want {
				t.Errorf("%T of %q differs from html/template", model, s)
			}
		}
	})
}

// A writer is made only of what html/template would not have changed at run time.
func TestPageWritersNeedSoundTypes(t *testing.T) {
	type model struct {
		Name string
		Sure bool
		Size float64
		HTML rawHTML
		URL  rawURL
	}
	for text, want := range map[string]string{
		`<p title="{{.Name}}">{{.HTML}}</p>`:       "",
		`<script>{{.Name}}</script>`:               "rawJS",
		`<style>{{.Name}}</style>`:                 "rawCSS",
		`<a href="{{.Name}}">x</a>`:                "rawURL",
		`<a href="{{.URL}}">x</a>`:                 "",
		`<p {{.Name}}>x</p>`:                       "rawAttr",
		`<p title="{{.HTML}}">x</p>`:               "would be escaped",
		`<p title={{.Name}}>x</p>`:                 "no writer",
		`<p onclick="{{.Name}}">x</p>`:             "no writer",
		`<p style="{{.Name}}">x</p>`:               "no writer",
		`<p>{{.Size}}</p>`:                         "no writer",
		`<p>{{.Missing}}</p>`:                      "no field",
		`<p>{{.Name.Missing}}</p>`:                 "no field",
		`<p>{{.Name | printf "%q"}}</p>`:           "no writer",
		`<p>{{printf "%q" .Name}}</p>`:             "no writer",
		`<p>{{range .Name}}x{{end}}{{.Name}}`:      "ranges over",
		`<p>{{if eq .Name .Sure}}{{.Name}}{{end}}`: "compares",
	} {
		file := filepath.Join(t.TempDir(), "x.html")
		if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		_, err := writerOf(file, "page", reflect.TypeFor[*model]())
		if want == "" && err != nil || want != "" && (err == nil || !strings.Contains(err.Error(), want)) {
			t.Errorf("%s: error %v, want %q", text, err, want)
		}
	}
}
