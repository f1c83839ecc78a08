package codegen

import (
	"fmt"
	"go/ast"
)

// KindRow is one row of the table of kinds.
type KindRow struct {
	Name, Body, Subject string
	Amendable           bool
	Roles               []string
}

// writeKinds writes a constant for each row of the table of kinds: Kind and the
// name of its body.
func writeKinds(f *goFile, p *Package) error {
	rows, err := p.Kinds()
	if err != nil || len(rows) == 0 {
		return err
	}
	f.printf("\n// Kinds of event.\nconst (\n")
	for _, row := range rows {
		f.printf("\tKind%s = %q\n", row.Body, row.Name)
	}
	f.printf(")\n")
	return nil
}

// Kinds reads the variable kinds of the package; without one there are none.
func (p *Package) Kinds() ([]KindRow, error) {
	table, is := p.vars["kinds"].(*ast.CompositeLit)
	if !is {
		return nil, nil
	}
	var rows []KindRow
	for _, elt := range table.Elts {
		row, err := p.kindRow(elt.(*ast.CompositeLit))
		if err != nil {
			return nil, err
		}
		rows = append(rows, row)
	}
	return rows, nil
}

func (p *Package) kindRow(lit *ast.CompositeLit) (KindRow, error) {
	row := KindRow{Roles: []string{}}
	for _, elt := range lit.Elts {
		pair := elt.(*ast.KeyValueExpr)
		value, _ := p.constant(pair.Value)
		switch pair.Key.(*ast.Ident).Name {
		case "Name":
			row.Name = value
		case "Subject":
			row.Subject = value
		case "Amendable":
			row.Amendable = isIdent(pair.Value, "true")
		case "Roles":
			row.Roles = p.lists[pair.Value.(*ast.Ident).Name]
		case "New":
			ast.Inspect(pair.Value, func(n ast.Node) bool {
				if call, is := n.(*ast.CallExpr); is && isIdent(call.Fun, "new") {
					row.Body = call.Args[0].(*ast.Ident).Name
				}
				return true
			})
		}
	}
	if row.Name == "" || p.types[row.Body] == nil || row.Subject == "" || row.Roles == nil {
		return row, fmt.Errorf("row %q of the table of kinds is not understood", row.Name)
	}
	return row, nil
}
