package render

import (
	"bytes"
	"fmt"
	"go/format"
	htmltemplate "html/template"
	"io"
	"os"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"
	"text/template/parse"
)

// pages are the templates and what is made of them: a method of markup that writes the page
// from its model. html/template decides what is escaped how; it stays out of the program,
// which it would make a tenth larger.
var pages = []struct {
	file, writer, method string
	model                reflect.Type
}{
	{"page/page.html", "pagewriter.go", "page", reflect.TypeFor[*pageModel]()},
	{"page/proof.html", "proofwriter.go", "proof", reflect.TypeFor[*proofModel]()},
}

// The writers are what the templates say; -update makes them anew.
func TestPageWritersAreOfTemplates(t *testing.T) {
	for _, p := range pages {
		want, err := writerOf(p.file, p.method, p.model)
		if err != nil {
			t.Fatalf("%s: %v", p.file, err)
		}
		if *update {
			if err := os.WriteFile(p.writer, want, 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		got, err := os.ReadFile(p.writer)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(got, want) {
			t.Errorf("%s is not what %s says; go generate ./render makes it anew", p.writer, p.file)
		}
	}
}

// escapedTemplate is a template as html/template has escaped it.
func escapedTemplate(file string) (*htmltemplate.Template, error) {
	t, err := htmltemplate.ParseFiles(file)
	if err != nil {
		return nil, err
	}
	// It escapes before it first executes; what comes of that is of no matter.
	_ = t.Execute(io.Discard, nil)
	if t.Tree == nil || !strings.Contains(t.Tree.Root.String(), "_html_template_") {
		return nil, fmt.Errorf("it was not escaped")
	}
	return t, nil
}

// writerOf makes the code of a template.
func writerOf(file, method string, model reflect.Type) (code []byte, err error) {
	t, err := escapedTemplate(file)
	if err != nil {
		return nil, err
	}
	w := &writing{templates: t, prefix: method, done: map[string]reflect.Type{}}
	defer func() {
		if said, ok := recover().(unwritable); ok {
			err = said
		}
	}()
	w.template(method, t.Tree, model)
	var out bytes.Buffer
	fmt.Fprintf(&out, "// Code generated from %s by go generate; DO NOT EDIT.\n\n//go:build !pagestubs\n\npackage render\n", file)
	out.Write(w.out.Bytes())
	return format.Source(out.Bytes())
}

// unwritable says what of a template has no writer.
type unwritable string

func (u unwritable) Error() string { return string(u) }

func fail(format string, a ...any) { panic(unwritable(fmt.Sprintf(format, a...))) }

// writing goes through escaped templates with the types of their data.
type writing struct {
	templates *htmltemplate.Template
	prefix    string
	out       bytes.Buffer // the methods that are finished
	done      map[string]reflect.Type
	names     int
}

// value is an expression of Go and its type.
type value struct {
	code string
	kind reflect.Type
}

// scope is what a part of a template sees: the dot, and variables.
type scope struct {
	dot       value
	variables map[string]value
}

// template writes one template as a method; it has one type of data, wherever it is used.
func (w *writing) template(method string, tree *parse.Tree, data reflect.Type) {
	var body bytes.Buffer
	dot := value{"v", data}
	w.list(&body, tree.Root, scope{dot, map[string]value{"$": dot}})
	fmt.Fprintf(&w.out, "\nfunc (m markup) %s(v %s) {\n%s}\n", method, w.typeName(data), body.String())
}

func (w *writing) typeName(t reflect.Type) string {
	return strings.ReplaceAll(t.String(), "render.", "")
}

func (w *writing) list(out *bytes.Buffer, list *parse.ListNode, s scope) {
	if list == nil {
		return
	}
	s.variables = cloned(s.variables)
	for _, n := range list.Nodes {
		w.node(out, n, s)
	}
}

func cloned(m map[string]value) map[string]value {
	out := map[string]value{}
	for k, v := range m {
		out[k] = v
	}
	return out
}

func (w *writing) node(out *bytes.Buffer, n parse.Node, s scope) {
	switch n := n.(type) {
	case *parse.TextNode:
		w.text(out, string(n.Text))
	case *parse.ActionNode:
		w.action(out, n.Pipe, s)
	case *parse.IfNode:
		fmt.Fprintf(out, "if %s {\n", w.condition(pipeline(n.Pipe, 0), s))
		w.list(out, n.List, s)
		w.otherwise(out, n.ElseList, s)
	case *parse.WithNode:
		v := w.evaluate(theOne(pipeline(n.Pipe, 0)), s)
		fmt.Fprintf(out, "if %s {\n", truth(v))
		w.list(out, n.List, scope{v, s.variables})
		w.otherwise(out, n.ElseList, s)
	case *parse.RangeNode:
		w.loop(out, n, s)
	case *parse.TemplateNode:
		v := w.evaluate(theOne(pipeline(n.Pipe, 0)), s)
		method := w.prefix + strings.ToUpper(n.Name[:1]) + n.Name[1:]
		if before, ok := w.done[n.Name]; !ok {
			w.done[n.Name] = v.kind
			w.template(method, w.templates.Lookup(n.Name).Tree, v.kind)
		} else if before != v.kind {
			fail("template %s is given %v and %v", n.Name, before, v.kind)
		}
		fmt.Fprintf(out, "m.%s(%s)\n", method, v.code)
	default:
		fail("there is no writer of %s", n)
	}
}

// text writes what stands in the template.
func (w *writing) text(out *bytes.Buffer, text string) {
	quoted := "`" + text + "`"
	if strings.ContainsAny(text, "`\r") {
		quoted = strconv.Quote(text)
	}
	fmt.Fprintf(out, "m.is(%s)\n", quoted)
}

func (w *writing) otherwise(out *bytes.Buffer, list *parse.ListNode, s scope) {
	if list != nil {
		out.WriteString("} else {\n")
		w.list(out, list, s)
	}
	out.WriteString("}\n")
}

func (w *writing) loop(out *bytes.Buffer, n *parse.RangeNode, s scope) {
	over := w.evaluate(theOne(pipeline(n.Pipe, len(n.Pipe.Decl))), s)
	if over.kind.Kind() != reflect.Slice {
		fail("%s ranges over %v", n, over.kind)
	}
	w.names++
	index := value{fmt.Sprintf("i%d", w.names), reflect.TypeFor[int]()}
	each := value{fmt.Sprintf("v%d", w.names), over.kind.Elem()}
	structs := each.kind.Kind() == reflect.Struct
	if structs {
		each.kind = reflect.PointerTo(each.kind)
	}
	variables := cloned(s.variables)
	switch d := n.Pipe.Decl; len(d) {
	case 0:
	case 1:
		variables[d[0].Ident[0]] = each
	case 2:
		variables[d[0].Ident[0]], variables[d[1].Ident[0]] = index, each
	}
	var body bytes.Buffer
	w.list(&body, n.List, scope{each, variables})
	if n.ElseList != nil {
		fmt.Fprintf(out, "if len(%s) == 0 {\n", over.code)
		w.list(out, n.ElseList, s)
		out.WriteString("}\n")
	}
	if structs {
		fmt.Fprintf(out, "for %s := range %s {\n%s := &%[2]s[%[1]s]\n", index.code, over.code, each.code)
	} else if used(body.String(), index.code) {
		fmt.Fprintf(out, "for %s, %s := range %s {\n", index.code, each.code, over.code)
	} else {
		fmt.Fprintf(out, "for _, %s := range %s {\n", each.code, over.code)
	}
	out.Write(body.Bytes())
	out.WriteString("}\n")
}

// used tells whether code names a variable.
func used(code, name string) bool {
	return slices.Contains(strings.FieldsFunc(code, func(r rune) bool { return !strings.ContainsRune(name, r) }), name)
}

// pipeline gives the commands of a pipeline that declares so many variables.
func pipeline(p *parse.PipeNode, declares int) []*parse.CommandNode {
	if p == nil || p.IsAssign || len(p.Decl) != declares || len(p.Cmds) == 0 {
		fail("there is no writer of %v", p)
	}
	return p.Cmds
}

func theOne(c []*parse.CommandNode) *parse.CommandNode {
	if len(c) != 1 {
		fail("there is no writer of %v as a value", c)
	}
	return c[0]
}
