package main

import (
	"fmt"
	"go/ast"
	"go/constant"
	"go/token"
	"go/types"
	"path"
	"strings"
)

// operators are what an operator becomes, and the function that stands for both.
var operators = map[token.Token]struct {
	other token.Token
	name  string
}{
	token.LSS: {token.LEQ, "Less"}, token.LEQ: {token.LSS, "LessEqual"},
	token.GTR: {token.GEQ, "More"}, token.GEQ: {token.GTR, "MoreEqual"},
	token.ADD: {token.SUB, "Add"}, token.SUB: {token.ADD, "Sub"},
	token.MUL: {token.QUO, "Mul"}, token.QUO: {token.MUL, "Quo"},
}

// binary moves a bound or takes another operator.
func (f *finder) binary(b *ast.BinaryExpr) {
	op, ok := operators[b.Op]
	if !ok || f.shifts(b.X) || f.shifts(b.Y) {
		return
	}
	left, right := f.types.Types[b.X], f.types.Types[b.Y]
	if !number(left.Type) || !number(right.Type) {
		return
	}
	if b.Op.Precedence() == token.LSS.Precedence() {
		f.besideBound(b.Y, b.Op)
		f.besideBound(b.X, mirrored[b.Op])
	}
	n := f.add(b, "%s: %s becomes %s", f.code(b), b.Op, op.other)
	f.wrap(b, fmt.Sprintf("mutant__%s(%d, ", op.name, n), ")")
	f.replace(b.OpPos, len(b.Op.String()), ",")
}

// shifts says whether an expression holds a shift, whose type follows from what
// stands around it.
func (f *finder) shifts(e ast.Expr) (found bool) {
	ast.Inspect(e, func(n ast.Node) bool {
		if b, ok := n.(*ast.BinaryExpr); ok && (b.Op == token.SHL || b.Op == token.SHR) && f.types.Types[b].Value == nil {
			found = true
		}
		return !found
	})
	return found
}

func number(t types.Type) bool {
	basic, ok := t.Underlying().(*types.Basic)
	return ok && basic.Info()&(types.IsInteger|types.IsFloat) != 0
}

var mirrored = map[token.Token]token.Token{token.LSS: token.GTR, token.GTR: token.LSS, token.LEQ: token.GEQ, token.GEQ: token.LEQ}

// besideBound leaves a whole constant that a value is compared with the one step
// that another operator does not make: "x < 3" with <= is "x < 4" already.
func (f *finder) besideBound(limit ast.Expr, op token.Token) {
	if basic, ok := f.types.TypeOf(limit).Underlying().(*types.Basic); ok && basic.Info()&types.IsInteger != 0 {
		f.bound[limit] = 1
		if op == token.LSS || op == token.GEQ {
			f.bound[limit] = -1
		}
	}
}

// constant changes a number by one and turns true and false around. Texts stay:
// they are codes and words, which other tests hold.
func (f *finder) constant(e ast.Expr, known types.TypeAndValue) {
	switch {
	case isBool(known.Type):
		n := f.add(e, "%s becomes %t", f.code(e), !constant.BoolVal(known.Value))
		f.wrap(e, fmt.Sprintf("mutant__Flip(%d, ", n), ")")
	case number(known.Type):
		name, ok := f.typeName(known.Type)
		if !ok {
			return
		}
		step := 1
		if f.bound[e] < 0 {
			step = -1
		}
		n := f.add(e, "%s %+d", f.code(e), step)
		f.wrap(e, fmt.Sprintf("mutant__Step[%s](%d, %d, ", name, n, step), ")")
	}
}

// typeName is how the current file writes a type; false when it can not.
func (f *finder) typeName(t types.Type) (name string, ok bool) {
	ok = true
	if basic, is := t.(*types.Basic); is && basic.Info()&types.IsUntyped != 0 {
		return "", false
	}
	name = types.TypeString(t, func(p *types.Package) string {
		if p == f.pkg {
			return ""
		}
		for _, imp := range f.file.tree.Imports {
			if strings.Trim(imp.Path.Value, `"`) != p.Path() {
				continue
			}
			if imp.Name != nil {
				return imp.Name.Name
			}
			return path.Base(p.Path())
		}
		ok = false
		return ""
	})
	return name, ok
}
