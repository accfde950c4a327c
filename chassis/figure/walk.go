package figure

import "reflect"

// Walk calls visit for every Input reachable from root, in the order of the
// struct fields, each exactly once however many pointers lead to it. root must
// be a pointer. Map keys are not followed: inputs live in structs and slices,
// so that the order never changes.
func Walk(root any, visit func(*Input)) {
	w := walk{visit: visit, seen: make(map[any]bool)}
	w.value(reflect.ValueOf(root))
}

type walk struct {
	visit func(*Input)
	seen  map[any]bool
}

var inputType = reflect.TypeFor[Input]()

func (w *walk) value(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() || w.seen[v.Interface()] {
			return
		}
		w.seen[v.Interface()] = true
		if in, ok := v.Interface().(*Input); ok {
			w.visit(in)
			return
		}
		w.value(v.Elem())
	case reflect.Struct:
		if v.Type() == inputType {
			w.value(v.Addr())
			return
		}
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				w.value(v.Field(i))
			}
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			w.value(v.Index(i))
		}
	case reflect.Invalid, reflect.Bool, reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64,
		reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64, reflect.Uintptr,
		reflect.Float32, reflect.Float64, reflect.Complex64, reflect.Complex128, reflect.Chan, reflect.Func,
		reflect.Interface, reflect.Map, reflect.String, reflect.UnsafePointer:
	}
}

// Number gives every input with a band its column in a table of draws and
// returns them in column order. Calling it again on the same root gives the
// same numbers.
//
// twins says which inputs repeat an earlier one, that was given once and stands
// in two places: they share its column and are not returned. It may be nil.
func Number(root any, twins map[*Input]*Input) []*Input {
	var banded []*Input
	Walk(root, func(in *Input) {
		in.Dim = 0
		if first := twins[in]; first != nil {
			in.Dim = first.Dim
			return
		}
		if in.Shape != Exact && in.Half > 0 {
			banded = append(banded, in)
			in.Dim = len(banded)
		}
	})
	return banded
}
