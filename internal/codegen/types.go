package codegen

import (
	"fmt"
	"go/ast"
	"strconv"
	"strings"
)

// Form is the JSON form of a type.
type Form int

// Forms.
const (
	String Form = iota
	Bool
	Integer
	Number
	Raw     // JSON as it is
	Bytes   // base64
	Message // message.Message
	Decimal // decimal.Micro
	Pointer
	Slice
	Map
	Struct
)

// Type is a resolved type.
type Type struct {
	Kind Form
	// Name is how Go code of the package writes the type; "" for one without a
	// name.
	Name string
	// Elem is what a pointer, slice or map holds, Key the key of a map.
	Elem, Key *Type
	// Named is the declaration of a named type of this module.
	Named *Named
	// fields are those of a struct without a name.
	fields []Field
}

// innermost is what pointers, slices and maps hold in the end.
func (t *Type) innermost() *Type {
	for t.Elem != nil {
		t = t.Elem
	}
	return t
}

var builtin = map[string]Form{
	"string": String, "bool": Bool, "float64": Number, "float32": Number, "int": Integer, "int64": Integer, "int32": Integer,
	"uint": Integer, "uint8": Integer, "uint16": Integer, "uint32": Integer, "uint64": Integer,
}

// known are types that write themselves.
var known = map[string]Form{
	"encoding/json.RawMessage": Raw, "doorsill/internal/model.Raw": Raw,
	"doorsill/internal/message.Message": Message, "doorsill/internal/decimal.Micro": Decimal,
}

// resolve finds what an expression in the file of a type means.
func (n *Named) resolve(expr ast.Expr) (*Type, error) {
	switch e := expr.(type) {
	case *ast.Ident:
		if form, is := builtin[e.Name]; is {
			return &Type{Kind: form, Name: e.Name}, nil
		}
		return n.pkg.named(e.Name, e.Name)
	case *ast.SelectorExpr:
		return n.imported(e)
	case *ast.StarExpr:
		elem, err := n.resolve(e.X)
		return &Type{Kind: Pointer, Elem: elem}, err
	case *ast.ArrayType:
		if isIdent(e.Elt, "byte") {
			return &Type{Kind: Bytes}, nil
		}
		elem, err := n.resolve(e.Elt)
		return &Type{Kind: Slice, Elem: elem}, err
	case *ast.MapType:
		key, err := n.resolve(e.Key)
		if err != nil {
			return nil, err
		}
		elem, err := n.resolve(e.Value)
		return &Type{Kind: Map, Key: key, Elem: elem}, err
	case *ast.StructType:
		fields, err := n.fieldsOf(e)
		return &Type{Kind: Struct, fields: fields}, err
	}
	return nil, fmt.Errorf("no JSON form for %T", expr)
}

// named resolves a type of the package; as is how the reader writes it.
func (p *Package) named(name, as string) (*Type, error) {
	if form, is := known[p.path+"."+name]; is {
		return &Type{Kind: form, Name: as}, nil
	}
	decl := p.types[name]
	if decl == nil {
		return nil, fmt.Errorf("%s has no type %s", p.path, name)
	}
	if _, is := decl.expr.(*ast.StructType); is {
		return &Type{Kind: Struct, Name: as, Named: decl}, nil
	}
	under, err := decl.resolve(decl.expr)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	t := *under
	t.Name, t.Named = as, decl
	return &t, nil
}

// imported resolves a type of another package.
func (n *Named) imported(e *ast.SelectorExpr) (*Type, error) {
	as := e.X.(*ast.Ident).Name + "." + e.Sel.Name
	path, err := n.importPath(e.X.(*ast.Ident).Name)
	if err != nil {
		return nil, err
	}
	if form, is := known[path+"."+e.Sel.Name]; is {
		return &Type{Kind: form, Name: as}, nil
	}
	if !strings.HasPrefix(path, n.pkg.source.module) {
		return nil, fmt.Errorf("no JSON form for %s.%s", path, e.Sel.Name)
	}
	p, err := n.pkg.source.Package(path)
	if err != nil {
		return nil, err
	}
	return p.named(e.Sel.Name, as)
}

func (n *Named) importPath(name string) (string, error) {
	for _, spec := range n.file.Imports {
		path, err := strconv.Unquote(spec.Path.Value)
		if err != nil {
			return "", err
		}
		if spec.Name != nil && spec.Name.Name == name || spec.Name == nil && path[strings.LastIndexByte(path, '/')+1:] == name {
			return path, nil
		}
	}
	return "", fmt.Errorf("%s: nothing is imported as %s", n.Name, name)
}
