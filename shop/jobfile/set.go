package jobfile

import (
	"fmt"
	"strings"
)

// Set changes one value of a job and leaves every other byte as it was:
// comments, blanks, order, line ends. The path is as a fault prints it:
// "builds.kit.front.seats_closer", "loads.driver.items[0].mass".
//
// The value replaces what was typed, in quotes where it could not stand
// without. Set does not judge it: read the result for that. It fails when
// nothing stands at the path, when more than one value stands there, or when
// the value is shared by a name (&), so that a change would be felt elsewhere.
func Set(job []byte, path, value string) ([]byte, error) {
	root, fault := shared(job)
	if fault != nil {
		return nil, &Faults{Name: "job", List: []Fault{*fault}}
	}
	n, err := find(root, path)
	if err != nil {
		return nil, err
	}
	start, end, err := extent(job, n, path)
	if err != nil {
		return nil, err
	}
	quoted, err := asScalar(value, job[start], jsonAt(job))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	out := make([]byte, 0, len(job)+len(quoted))
	out = append(append(append(out, job[:start]...), quoted...), job[end:]...)
	// The proof: taken apart again, the two texts differ in this one value.
	after, fault := shared(out)
	if fault != nil {
		return nil, fmt.Errorf("%s cannot be changed to %s here: the job would no longer be readable", path, short(value))
	}
	if now, err := find(after, path); err != nil || now.text != value {
		return nil, fmt.Errorf("%s cannot be changed to %s here: it would be read as something else", path, short(value))
	}
	if at := differ(without(root, path), without(after, path), ""); at != "" {
		return nil, fmt.Errorf("%s cannot be changed to %s here: %s would change with it", path, short(value), at)
	}
	return out, nil
}

// find follows a path. Names of keys may hold dots only where no shorter name
// fits.
func find(root *node, path string) (*node, error) {
	n, rest := root, path
	for rest != "" {
		if n.shared {
			return nil, fmt.Errorf("%s: the value is shared by a name (&); change it there by hand", path)
		}
		if index, after, ok := cutIndex(rest); ok {
			if n.kind != sequence || index >= len(n.items) {
				return nil, fmt.Errorf("%s: %w", path, errNoValue)
			}
			n, rest = n.items[index], after
			continue
		}
		if at, after, ok := cutPlace(rest, len(n.items)); ok && n.kind == sequence {
			n, rest = n.items[at], after
			continue
		}
		next := (*node)(nil)
		best := -1
		for _, p := range n.pairs {
			after, ok := strings.CutPrefix(rest, p.key)
			if ok && (after == "" || after[0] == '.' || after[0] == '[') && len(p.key) > best {
				next, best = p.value, len(p.key)
			}
		}
		if next == nil {
			return nil, fmt.Errorf("%s: %w", path, errNoValue)
		}
		n, rest = next, strings.TrimPrefix(rest[best:], ".")
	}
	if n.shared {
		return nil, fmt.Errorf("%s: the value is shared by a name (&); change it there by hand", path)
	}
	if n.kind != scalar || n.token == nil {
		return nil, fmt.Errorf("%s: %w", path, errNoValue)
	}
	return n, nil
}
