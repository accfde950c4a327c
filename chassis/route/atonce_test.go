package route

import (
	"reflect"
	"sync"
	"testing"

	"trunnion/chassis/road"
)

// Many drives ask for the same samples at the same time: each gets the very heights that
// it would get alone, and every sample is laid once.
func TestLaidAtOnce(t *testing.T) {
	named, ok := road.FindRoad("village lane")
	if !ok {
		t.Fatal("there is no village lane")
	}
	c := &Road{Name: "village-lane", Spectrum: named.Spectrum, Speed: 20}
	alone := make([]road.Profile, 3)
	for k := range alone {
		p, err := new(Laid).Sample(c, k, 7, 60)
		if err != nil {
			t.Fatal(err)
		}
		alone[k] = *p
	}
	if reflect.DeepEqual(alone[0], alone[1]) {
		t.Fatal("two samples are the same road")
	}
	var l Laid
	var all sync.WaitGroup
	got := make([]*road.Profile, 12)
	for i := range got {
		all.Go(func() {
			p, err := l.Sample(c, i%3, 7, 60)
			if err != nil {
				t.Error(err)
			}
			got[i] = p
		})
	}
	all.Wait()
	for i, p := range got {
		if p != got[i%3] || !reflect.DeepEqual(*p, alone[i%3]) {
			t.Errorf("sample %d is another road when it is asked for again", i%3)
		}
	}
}
