package main

import (
	"fmt"
	"go/ast"
	"go/token"
	"go/types"
)

// statements leaves each statement of a block out that the rest can do without.
func (f *finder) statements(list []ast.Stmt) {
	for _, s := range list {
		if !f.droppable(s) {
			continue
		}
		n := f.add(s, "%s is left out", f.code(s))
		f.wrap(s, fmt.Sprintf("if !mutant__Is(%d) { ", n), " }")
	}
}

// droppable says whether the package compiles without a statement.
func (f *finder) droppable(s ast.Stmt) bool {
	switch s := s.(type) {
	case *ast.ExprStmt:
		call, ok := s.X.(*ast.CallExpr)
		if !ok {
			return false
		}
		name, _ := call.Fun.(*ast.Ident)
		return name == nil || name.Name != "panic" // it may be what ends a function
	case *ast.AssignStmt:
		return s.Tok != token.DEFINE && !allBlank(s.Lhs) && !onlyRoom(s.Rhs)
	case *ast.BranchStmt:
		return s.Tok == token.BREAK || s.Tok == token.CONTINUE
	case *ast.IncDecStmt, *ast.DeferStmt, *ast.GoStmt:
		return true
	}
	return false
}

func allBlank(list []ast.Expr) bool {
	for _, e := range list {
		if name, ok := e.(*ast.Ident); !ok || name.Name != "_" {
			return false
		}
	}
	return true
}

// onlyRoom says whether all that is assigned is an empty list with some room.
func onlyRoom(list []ast.Expr) bool {
	call, ok := list[0].(*ast.CallExpr)
	if !ok || len(list) > 1 || len(call.Args) != 3 || !isMake(call) {
		return false
	}
	length, ok := call.Args[1].(*ast.BasicLit)
	return ok && length.Value == "0"
}

func isMake(call *ast.CallExpr) bool {
	name, ok := call.Fun.(*ast.Ident)
	return ok && name.Name == "make"
}

// errors swallows each error that is returned. A constant beside it means
// nothing.
func (f *finder) errors(r *ast.ReturnStmt) {
	for _, e := range r.Results {
		known := f.types.Types[e]
		if known.IsNil() || known.Type == nil || !types.Identical(known.Type, types.Universe.Lookup("error").Type()) {
			continue
		}
		n := f.add(e, "return %s becomes nil", f.code(e))
		f.wrap(e, fmt.Sprintf("mutant__Error(%d, ", n), ")")
		for _, beside := range r.Results {
			f.skip[beside] = f.types.Types[beside].Value != nil
		}
	}
}
