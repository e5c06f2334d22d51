package render

import (
	"bytes"
	"fmt"
	"reflect"
	"strconv"
	"strings"
	"text/template/parse"
)

// action writes a value through the escapers that html/template set behind it, or gives it
// a name.
func (w *writing) action(out *bytes.Buffer, p *parse.PipeNode, s scope) {
	if len(p.Decl) == 1 {
		s.variables[p.Decl[0].Ident[0]] = w.evaluate(theOne(pipeline(p, 1)), s)
		return
	}
	c := pipeline(p, 0)
	v := w.evaluate(c[0], s)
	var escapers []string
	for _, e := range c[1:] {
		escapers = append(escapers, strings.TrimPrefix(e.String(), "_html_template_"))
	}
	switch through := strings.Join(escapers, " "); through {
	case "htmlescaper", "attrescaper", "rcdataescaper":
		if v.kind == reflect.TypeFor[rawHTML]() && through == "htmlescaper" {
			fmt.Fprintf(out, "m.is(string(%s))\n", v.code)
			return
		}
		w.print(out, "text", v)
	case "urlescaper attrescaper":
		w.print(out, "urlPart", v)
	case "urlfilter urlnormalizer attrescaper":
		w.raw(out, "url", v, reflect.TypeFor[rawURL]())
	case "htmlnamefilter":
		w.raw(out, "is", v, reflect.TypeFor[rawAttr]())
	case "cssvaluefilter":
		w.raw(out, "is", v, reflect.TypeFor[rawCSS]())
	case "jsvalescaper":
		w.raw(out, "is", v, reflect.TypeFor[rawJS]())
	default:
		fail("there is no writer for %s, which is escaped by %q", c[0], through)
	}
}

// raw writes a value whose type alone allows it to stand where it does.
func (w *writing) raw(out *bytes.Buffer, method string, v value, kind reflect.Type) {
	if v.kind != kind {
		fail("%s is %v where only %v may stand", v.code, v.kind, kind)
	}
	fmt.Fprintf(out, "m.%s(string(%s))\n", method, v.code)
}

// print writes a value as text, as fmt prints it. Types that stand as they are elsewhere
// are no plain texts: html/template would escape some of them in other ways.
func (w *writing) print(out *bytes.Buffer, method string, v value) {
	switch {
	case isRaw(v.kind):
		fail("%s of type %v stands where it would be escaped", v.code, v.kind)
	case v.kind.Implements(reflect.TypeFor[fmt.Stringer]()):
		fmt.Fprintf(out, "m.%s(%s.String())\n", method, v.code)
	case v.kind.Implements(reflect.TypeFor[error]()):
		fail("%s is an error", v.code)
	case v.kind == reflect.TypeFor[string]():
		fmt.Fprintf(out, "m.%s(%s)\n", method, v.code)
	case v.kind.Kind() == reflect.String:
		fmt.Fprintf(out, "m.%s(string(%s))\n", method, v.code)
	case v.kind == reflect.TypeFor[int]():
		fmt.Fprintf(out, "m.number(%s)\n", v.code)
	default:
		fail("there is no writer of %s, which is %v", v.code, v.kind)
	}
}

func isRaw(t reflect.Type) bool {
	switch t {
	case reflect.TypeFor[rawHTML](), reflect.TypeFor[rawAttr](), reflect.TypeFor[rawCSS](), reflect.TypeFor[rawJS](), reflect.TypeFor[rawURL]():
		return true
	}
	return false
}

// evaluate gives the value of a command: a field, a variable, or a function of them.
func (w *writing) evaluate(c *parse.CommandNode, s scope) value {
	if len(c.Args) == 1 {
		return w.operand(c.Args[0], s)
	}
	name := c.Args[0].String()
	switch args := c.Args[1:]; {
	case name == "len" && len(args) == 1:
		return value{"len(" + w.operand(args[0], s).code + ")", reflect.TypeFor[int]()}
	case name == "index" && len(args) == 2 && args[1].Type() == parse.NodeNumber:
		v := w.operand(args[0], s)
		if v.kind.Kind() == reflect.Slice {
			return value{fmt.Sprintf("%s[%s]", v.code, args[1]), v.kind.Elem()}
		}
	}
	fail("there is no writer of %s", c)
	return value{}
}

func (w *writing) operand(n parse.Node, s scope) value {
	switch n := n.(type) {
	case *parse.DotNode:
		return s.dot
	case *parse.FieldNode:
		return fields(s.dot, n.Ident)
	case *parse.VariableNode:
		v, ok := s.variables[n.Ident[0]]
		if !ok {
			fail("%s is not known", n)
		}
		return fields(v, n.Ident[1:])
	case *parse.ChainNode:
		return fields(w.operand(n.Node, s), n.Field)
	case *parse.PipeNode:
		return w.evaluate(theOne(pipeline(n, 0)), s)
	case *parse.NumberNode:
		return value{n.Text, reflect.TypeFor[int]()}
	case *parse.StringNode:
		return value{strconv.Quote(n.Text), reflect.TypeFor[string]()}
	}
	fail("there is no writer of %s", n)
	return value{}
}

// fields goes from a value to a field of a field of it.
func fields(v value, names []string) value {
	for _, name := range names {
		t := v.kind
		if t.Kind() == reflect.Pointer {
			t = t.Elem()
		}
		if t.Kind() != reflect.Struct {
			fail("%s, which is %v, has no field %s", v.code, v.kind, name)
		}
		f, ok := t.FieldByName(name)
		if !ok || !f.IsExported() {
			fail("%s, which is %v, has no field %s", v.code, v.kind, name)
		}
		v = value{v.code + "." + name, f.Type}
	}
	return v
}

// condition gives the truth of a pipeline.
func (w *writing) condition(c []*parse.CommandNode, s scope) string {
	one := theOne(c)
	name, args := one.Args[0].String(), one.Args[1:]
	if len(args) == 0 {
		if p, ok := one.Args[0].(*parse.PipeNode); ok {
			return w.condition(pipeline(p, 0), s)
		}
		return truth(w.operand(one.Args[0], s))
	}
	truths := func() (all []string) {
		for _, a := range args {
			if p, ok := a.(*parse.PipeNode); ok {
				all = append(all, "("+w.condition(pipeline(p, 0), s)+")")
			} else {
				all = append(all, truth(w.operand(a, s)))
			}
		}
		return all
	}
	switch {
	case name == "and":
		return strings.Join(truths(), " && ")
	case name == "or":
		return strings.Join(truths(), " || ")
	case name == "not" && len(args) == 1:
		return "!(" + truths()[0] + ")"
	case name == "eq" && len(args) == 2, name == "gt" && len(args) == 2:
		a, b := w.operand(args[0], s), w.operand(args[1], s)
		if a.kind != b.kind || a.kind.Kind() != reflect.String && a.kind.Kind() != reflect.Int {
			fail("%s compares %v with %v", one, a.kind, b.kind)
		}
		return a.code + map[string]string{"eq": " == ", "gt": " > "}[name] + b.code
	}
	fail("there is no writer of %s", one)
	return ""
}

// truth is what text/template takes for true: what is not empty.
func truth(v value) string {
	switch v.kind.Kind() {
	case reflect.Bool:
		return v.code
	case reflect.String:
		return v.code + ` != ""`
	case reflect.Int:
		return v.code + " != 0"
	case reflect.Slice:
		return "len(" + v.code + ") > 0"
	case reflect.Pointer:
		return v.code + " != nil"
	}
	fail("%s, which is %v, is no condition", v.code, v.kind)
	return ""
}
