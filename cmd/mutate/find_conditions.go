package main

import (
	"fmt"
	"go/ast"
	"go/token"
	"go/types"
)

// changes says which changes of a condition are worth making: that it never
// holds and that it always holds.
type changes struct{ never, always bool }

// conditions marks what a statement decides by, and handles expressions that
// are conditions.
func (f *finder) conditions(n ast.Node) {
	switch n := n.(type) {
	case *ast.IfStmt:
		f.wanted[n.Cond] = changes{true, true}
	case *ast.ForStmt:
		f.wanted[n.Cond] = changes{never: true} // always would not end
	case *ast.SwitchStmt:
		f.cases(n)
	case ast.Expr:
		f.condition(n)
	}
}

// cases are conditions in a switch without a value, and else values that must
// be able to match.
func (f *finder) cases(s *ast.SwitchStmt) {
	for _, clause := range s.Body.List {
		for _, e := range clause.(*ast.CaseClause).List {
			if s.Tag == nil {
				f.wanted[e] = changes{true, true}
				continue
			}
			if f.unmatched(e) {
				f.skip[e] = true
			}
		}
	}
}

// unmatched makes a case that never matches, where the type allows that.
func (f *finder) unmatched(e ast.Expr) bool {
	t := f.types.TypeOf(e)
	basic, ok := t.Underlying().(*types.Basic)
	name, known := f.typeName(t)
	if !ok || !known || basic.Info()&types.IsString == 0 {
		return false
	}
	n := f.add(e, "case %s never matches", f.code(e))
	f.wrap(e, fmt.Sprintf("mutant__Text[%s](%d, ", name, n), ")")
	return true
}

// condition handles an expression that is true or false. Of "a && b" each part
// is left out by itself, so that each has to matter.
func (f *finder) condition(e ast.Expr) {
	want, decides := f.wanted[e]
	if known := f.types.Types[e]; known.Value != nil || known.Type == nil || !isBool(known.Type) {
		return
	}
	switch e := e.(type) {
	case *ast.ParenExpr:
		if decides {
			f.wanted[e.X] = want
		}
		return
	case *ast.UnaryExpr:
		if e.Op == token.NOT {
			f.wanted[e.X] = changes{want.always, want.never}
			if !decides {
				f.wanted[e.X] = changes{true, true}
			}
			return
		}
	case *ast.BinaryExpr:
		if !decides {
			want = changes{true, true}
		}
		switch e.Op {
		case token.LAND:
			f.wanted[e.X], f.wanted[e.Y] = changes{always: true}, changes{always: true}
			want.always = false
		case token.LOR:
			f.wanted[e.X], f.wanted[e.Y] = changes{never: true}, changes{never: true}
			want.never = false
		}
	}
	f.force(e, want)
}

func isBool(t types.Type) bool {
	return types.Identical(t, types.Typ[types.Bool]) || types.Identical(t, types.Typ[types.UntypedBool])
}

// force makes a condition never or always hold.
func (f *finder) force(e ast.Expr, want changes) {
	if want == (changes{}) {
		return
	}
	never, always := -1, -1
	if want.never {
		never = f.add(e, "%s never holds", f.code(e))
	}
	if want.always {
		always = f.add(e, "%s always holds", f.code(e))
	}
	f.wrap(e, fmt.Sprintf("mutant__Bool(%d, %d, ", never, always), ")")
}
