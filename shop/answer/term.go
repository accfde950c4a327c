package answer

import (
	"encoding/json"
	"errors"
)

// named is a term with a name of its own.
type named struct {
	Is   any    `json:"is"`
	Name string `json:"name"`
}

// MarshalJSON writes a term in the shortest way that says it.
func (t Term) MarshalJSON() ([]byte, error) {
	var is any = t.Value
	if t.Of != "" {
		is = t.Of
	}
	if t.Name != "" {
		return json.Marshal(named{is, t.Name})
	}
	return json.Marshal(is)
}

// UnmarshalJSON reads it back.
func (t *Term) UnmarshalJSON(data []byte) error {
	var is any
	if err := json.Unmarshal(data, &is); err != nil {
		return err
	}
	if m, ok := is.(map[string]any); ok {
		name, ok := m["name"].(string)
		if !ok {
			return errors.New("answer: a term without a name")
		}
		t.Name, is = name, m["is"]
	}
	switch v := is.(type) {
	case string:
		t.Of = v
	case float64:
		t.Value = &v
	case nil:
	default:
		return errors.New("answer: a term is a number or an id")
	}
	return nil
}
