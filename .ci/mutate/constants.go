package main

import (
	"fmt"
	"go/ast"
	"go/build"
	"go/constant"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// number is a package constant written as a plain number.
type number struct {
	name    string // such as applique.FollowWithin
	ident   string
	pkg     string // folder of the package
	literal string // as written
	value   float64
	at      string // file:line
	file    string
	from    int    // where the literal begins in the file
	nameAt  int    // and its name
	kindOf  string // the one type that all its uses have, "" where it must stay a constant
}

func (c *number) kind() string {
	if c.kindOf == "" {
		return "changed in the source"
	}
	return c.kindOf
}

// copyModule copies the module without what tests do not need: the folders beside it that
// begin with a dot.
func copyModule(to, from string) error {
	return filepath.WalkDir(from, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			if path != from && filepath.Dir(path) == filepath.Clean(from) && strings.HasPrefix(d.Name(), ".") {
				return filepath.SkipDir
			}
			return os.MkdirAll(filepath.Join(to, path), 0o755)
		}
		if !d.Type().IsRegular() {
			return nil
		}
		data, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		return os.WriteFile(filepath.Join(to, path), data, 0o644)
	})
}

// constantsOf finds the constants of a package and what type each is used as.
func constantsOf(module, pkg string) ([]*number, error) {
	fset := token.NewFileSet()
	dir := filepath.Join(module, pkg)
	names, err := filepath.Glob(filepath.Join(dir, "*.go"))
	if err != nil {
		return nil, err
	}
	var files []*ast.File
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(fset, name, nil, parser.SkipObjectResolution)
		if err != nil {
			return nil, err
		}
		files = append(files, f)
	}
	build.Default.CgoEnabled = false // no need of a C compiler
	info := &types.Info{Types: map[ast.Expr]types.TypeAndValue{}, Defs: map[*ast.Ident]types.Object{}, Uses: map[*ast.Ident]types.Object{}}
	conf := types.Config{Importer: importer.ForCompiler(fset, "source", nil)}
	if _, err := conf.Check(pkg, fset, files, info); err != nil {
		return nil, err
	}
	of := map[types.Object]*number{}
	var out []*number
	for _, f := range files {
		for _, decl := range f.Decls {
			g, ok := decl.(*ast.GenDecl)
			if !ok || g.Tok != token.CONST {
				continue
			}
			for _, spec := range g.Specs {
				v := spec.(*ast.ValueSpec)
				for i, id := range v.Names {
					if i >= len(v.Values) || !plainNumber(v.Values[i]) {
						continue
					}
					obj := info.Defs[id].(*types.Const)
					x, _ := constant64(obj.Val())
					at := fset.Position(id.Pos())
					rel, _ := filepath.Rel(module, at.Filename)
					from, to := fset.Position(v.Values[i].Pos()).Offset, fset.Position(v.Values[i].End()).Offset
					c := &number{
						name: f.Name.Name + "." + id.Name, ident: id.Name, pkg: pkg, value: x,
						at: fmt.Sprintf("%s:%d", rel, at.Line), file: at.Filename, from: from, nameAt: at.Offset,
					}
					data, err := os.ReadFile(at.Filename)
					if err != nil {
						return nil, err
					}
					c.literal = string(data[from:to])
					of[obj] = c
					out = append(out, c)
				}
			}
		}
	}
	usedAs(files, info, of)
	return out, nil
}

func constant64(v constant.Value) (float64, bool) { return constant.Float64Val(constant.ToFloat(v)) }

// plainNumber reports whether an expression is a number, with a sign or without.
func plainNumber(e ast.Expr) bool {
	if u, ok := e.(*ast.UnaryExpr); ok && u.Op == token.SUB {
		e = u.X
	}
	l, ok := e.(*ast.BasicLit)
	return ok && (l.Kind == token.INT || l.Kind == token.FLOAT)
}

// usedAs notes the type of each constant's uses, where it is one and where no
// use asks for a constant: array lengths, and the values of other constants.
func usedAs(files []*ast.File, info *types.Info, of map[types.Object]*number) {
	fixed := map[*number]bool{}
	note := func(n ast.Node) {
		ast.Inspect(n, func(n ast.Node) bool {
			if id, ok := n.(*ast.Ident); ok {
				if c := of[info.Uses[id]]; c != nil {
					fixed[c] = true
				}
			}
			return true
		})
	}
	use := func(id *ast.Ident, t types.Type) {
		c := of[info.Uses[id]]
		if c == nil {
			return
		}
		name := t.String()
		if n, ok := t.(*types.Named); ok {
			name = n.Obj().Name() // of this package, since the constant is
		}
		if b, ok := t.Underlying().(*types.Basic); !ok || b.Info()&types.IsUntyped != 0 || c.kindOf != "" && c.kindOf != name {
			fixed[c] = true
		}
		c.kindOf = name
	}
	for _, f := range files {
		ast.Inspect(f, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.ArrayType:
				if n.Len != nil {
					note(n.Len)
				}
			case *ast.GenDecl:
				if n.Tok == token.CONST {
					note(n)
					return false
				}
			case *ast.BinaryExpr:
				// Arithmetic of constants alone has the type that it is used as.
				if tv := info.Types[n]; tv.Value != nil {
					ast.Inspect(n, func(n ast.Node) bool {
						if id, ok := n.(*ast.Ident); ok {
							use(id, tv.Type)
						}
						return true
					})
					return false
				}
			case *ast.Ident:
				use(n, info.Types[n].Type)
			}
			return true
		})
	}
	for c := range fixed {
		c.kindOf = ""
	}
}
