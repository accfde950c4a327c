package figure

import "reflect"

// Copy is a copy of what a pointer leads to in which every Input is another one, and
// pointers that led to one thing still do. What holds no Input, such as a curve made of a
// table, is shared. It is for a study beside another of the same job: each numbers the
// inputs for its own draws.
func Copy[T any](root *T) *T {
	c := copying{seen: map[any]reflect.Value{}, holds: map[reflect.Type]bool{}}
	return c.value(reflect.ValueOf(root)).Interface().(*T)
}

type copying struct {
	seen  map[any]reflect.Value
	holds map[reflect.Type]bool
}

func (c *copying) value(v reflect.Value) reflect.Value {
	if !c.has(v.Type()) {
		return v
	}
	switch v.Kind() { //nolint:exhaustive // has is false of the others
	case reflect.Pointer:
		if v.IsNil() {
			return v
		}
		if was, have := c.seen[v.Interface()]; have {
			return was
		}
		out := reflect.New(v.Type().Elem())
		c.seen[v.Interface()] = out
		out.Elem().Set(c.value(v.Elem()))
		return out
	case reflect.Struct:
		out := reflect.New(v.Type()).Elem()
		out.Set(v)
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() && v.Type() != inputType {
				out.Field(i).Set(c.value(v.Field(i)))
			}
		}
		return out
	case reflect.Slice:
		if v.IsNil() {
			return v
		}
		out := reflect.MakeSlice(v.Type(), v.Len(), v.Len())
		for i := range v.Len() {
			out.Index(i).Set(c.value(v.Index(i)))
		}
		return out
	case reflect.Array:
		out := reflect.New(v.Type()).Elem()
		for i := range v.Len() {
			out.Index(i).Set(c.value(v.Index(i)))
		}
		return out
	}
	return v
}

// has reports whether a type leads to an Input; a type that leads to itself does so by
// what else it holds.
func (c *copying) has(t reflect.Type) bool {
	if was, have := c.holds[t]; have {
		return was
	}
	c.holds[t] = false
	is := t == inputType
	switch t.Kind() { //nolint:exhaustive // the others lead nowhere
	case reflect.Pointer, reflect.Slice, reflect.Array:
		is = c.has(t.Elem())
	case reflect.Struct:
		for i := 0; i < t.NumField() && !is; i++ {
			is = t.Field(i).IsExported() && c.has(t.Field(i).Type)
		}
	}
	c.holds[t] = is
	return is
}
