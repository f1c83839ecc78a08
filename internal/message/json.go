package message

import (
	"doorsill/internal/decimal"
	"doorsill/internal/strictjson"
	"doorsill/internal/validation"
)

// The JSON form of a message is {"code": …, "args": {…}, "text": …}. Arguments
// are in their order: a number as such, one that is none or too large as null, a
// word as text, words as a list of texts, a message as an object, messages as a
// list of objects. Without arguments args is left out, without a sentence text.

// AppendJSON appends the JSON form.
func (m *Message) AppendJSON(b []byte) []byte {
	b = append(b, `{"code":`...)
	b = strictjson.AppendText(b, m.Code)
	if len(m.Args) > 0 {
		b = append(b, `,"args":{`...)
		for i := range m.Args {
			b = m.Args[i].appendJSON(strictjson.AppendKey(b, m.Args[i].Name))
		}
		b = append(b, '}')
	}
	if m.Text != "" {
		b = append(b, `,"text":`...)
		b = strictjson.AppendText(b, m.Text)
	}
	return append(b, '}')
}

func (a *Arg) appendJSON(b []byte) []byte {
	switch a.Kind {
	case KindNumber:
		return a.Number.AppendJSON(b)
	case KindWord:
		return strictjson.AppendText(b, a.Word)
	case KindMessage:
		return a.Messages[0].AppendJSON(b)
	case KindWords:
		if a.Words != nil {
			return strictjson.AppendTexts(b, a.Words)
		}
		return append(b, "[]"...)
	case KindMessages:
		if a.Messages != nil {
			return strictjson.AppendSlice(b, a.Messages, func(b []byte, m *Message) []byte { return m.AppendJSON(b) })
		}
		return append(b, "[]"...)
	}
	return append(b, "null"...)
}

// MarshalJSON returns the JSON form.
func (m Message) MarshalJSON() ([]byte, error) { return m.AppendJSON(nil), nil }

// UnmarshalJSON reads the JSON form. An empty list is one of words.
func (m *Message) UnmarshalJSON(data []byte) error {
	r := strictjson.NewReader(data)
	*m = Message{}
	if string(data) == "null" {
		return nil
	}
	if err := validation.First(m.ReadJSON(r), r.End()); err != nil {
		return err
	}
	return nil
}

// ReadJSON reads the JSON form.
func (m *Message) ReadJSON(r *strictjson.Reader) *validation.Error {
	return r.Object(func(key []byte) *validation.Error {
		switch string(key) {
		case "code":
			return r.Text(&m.Code)
		case "text":
			return r.Text(&m.Text)
		case "args":
			m.Args = nil
			return r.Object(func(name []byte) *validation.Error {
				arg, err := readArg(r, string(name))
				m.Args = append(m.Args, arg)
				return err
			})
		}
		return r.Skip()
	})
}

// readArg tells the kind of an argument from the value.
func readArg(r *strictjson.Reader, name string) (Arg, *validation.Error) {
	switch r.Peek() {
	case 'n':
		return Arg{Name: name, Kind: KindNoNumber}, r.Skip()
	case '"':
		var word string
		err := r.Text(&word)
		return Word(name, word), err
	case '{':
		var inner Message
		err := inner.ReadJSON(r)
		return Inner(name, inner), err
	case '[':
		return readList(r, name)
	}
	var digits []byte
	if err := r.Raw(&digits); err != nil {
		return Arg{}, err
	}
	value, ok := decimal.Parse(string(digits))
	if !ok {
		return Arg{}, &validation.Error{Code: validation.CodeWrongType, Want: "a number of at most six decimals", Got: string(digits)}
	}
	return Exact(name, value), nil
}

func readList(r *strictjson.Reader, name string) (Arg, *validation.Error) {
	words, messages := []string{}, []Message{}
	err := r.List("a list", func() *validation.Error {
		if r.Peek() == '{' && len(words) == 0 {
			messages = append(messages, Message{})
			return messages[len(messages)-1].ReadJSON(r)
		}
		if r.Peek() != '"' || len(messages) > 0 {
			return &validation.Error{Code: validation.CodeWrongType, Want: "a list of texts or of messages"}
		}
		var word string
		err := r.Text(&word)
		words = append(words, word)
		return err
	})
	if len(messages) > 0 {
		return List(name, messages), err
	}
	return Words(name, words), err
}
