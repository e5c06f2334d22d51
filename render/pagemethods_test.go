package render

import (
	"reflect"
	"testing"
)

// The templates read fields and call no methods: the app's build has none to call by
// name, for they would make it a tenth larger.
func TestTemplatesNeedNoMethods(t *testing.T) {
	seen := map[reflect.Type]bool{}
	var walk func(reflect.Type)
	walk = func(kind reflect.Type) {
		if seen[kind] {
			return
		}
		seen[kind] = true
		for _, k := range []reflect.Type{kind, reflect.PointerTo(kind)} {
			for i := range k.NumMethod() {
				if name := k.Method(i).Name; name != "String" && kind.Kind() != reflect.Interface {
					t.Errorf("%s has a method %s that a template could call", k, name)
				}
			}
		}
		switch kind.Kind() {
		case reflect.Pointer, reflect.Slice, reflect.Array, reflect.Map:
			walk(kind.Elem())
		case reflect.Struct:
			for i := range kind.NumField() {
				if f := kind.Field(i); f.IsExported() {
					walk(f.Type)
				}
			}
		}
	}
	walk(reflect.TypeFor[pageModel]())
	walk(reflect.TypeFor[proofModel]())
	if len(seen) < 20 {
		t.Errorf("only %d types were looked at", len(seen))
	}
}
