package model

import "errors"

// Raw is JSON as it was received. It stands in for json.RawMessage, so that the
// program in the browser does without encoding/json.
type Raw []byte

// MarshalJSON returns the bytes, null when there are none.
func (r Raw) MarshalJSON() ([]byte, error) {
	if r == nil {
		return []byte("null"), nil
	}
	return r, nil
}

// UnmarshalJSON keeps a copy of the bytes.
func (r *Raw) UnmarshalJSON(data []byte) error {
	if r == nil {
		return errors.New("read JSON into a nil Raw")
	}
	*r = append((*r)[:0], data...)
	return nil
}

// AppendJSON appends the bytes as they are.
func (r Raw) AppendJSON(b []byte) []byte {
	if r == nil {
		return append(b, "null"...)
	}
	return append(b, r...)
}
