package web

import (
	"bytes"
	"encoding/json"
	"fmt"
	"net/http"
	"sync"
	"testing"
	"time"

	"trunnion/shop/jobfile"
	"trunnion/shop/store"
	"trunnion/shop/view/viewtest"
)

// BenchmarkWorkshop has 50 people read and 10 save at once, over HTTP. Goal: no
// error, and 95 % of the answers within 250 ms on two cores.
func BenchmarkWorkshop(b *testing.B) {
	s := openShop(b, b.TempDir(), true)
	s.client = &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: 100}}
	const readers, writers = 50, 10
	jobs := make([]string, writers)
	for w := range jobs {
		r, err := s.store.Save(b.Context(), store.Change{Job: store.NewID(), Who: "w", Text: []byte(fmt.Sprintf("%s\n# of writer %d\n", viewtest.DemoText(b), w))})
		if err != nil {
			b.Fatal(err)
		}
		jobs[w] = r.Job
	}
	var mu sync.Mutex
	var reads, saves []time.Duration
	revision := make([]int, writers)
	for b.Loop() {
		var group sync.WaitGroup
		for k := range readers {
			group.Go(func() {
				path := []string{"/api/jobs?search=marl", "/api/jobs/demo", "/api/session", "/api/jobs?limit=50", "/api/catalogue?kind=spring"}[k%5]
				start := time.Now()
				status, err := plainAsk(s, path)
				mu.Lock()
				defer mu.Unlock()
				if status != 200 || err != nil {
					b.Errorf("%s: %d %v", path, status, err)
				}
				reads = append(reads, time.Since(start))
			})
		}
		for w := range writers {
			revision[w]++
			group.Go(func() {
				text := fmt.Sprintf("%s\n# of writer %d, save %d\n", viewtest.DemoText(b), w, revision[w])
				in, err := json.Marshal(SaveRequest{Text: text, Edits: []jobfile.Edit{}, Who: fmt.Sprintf("writer %d", w)})
				if err != nil {
					b.Error(err)
					return
				}
				start := time.Now()
				r, err := http.NewRequestWithContext(b.Context(), http.MethodPut, s.url+"/api/jobs/"+jobs[w], bytes.NewReader(in))
				if err != nil {
					b.Error(err)
					return
				}
				r.Header.Set("Content-Type", "application/json")
				r.Header.Set("If-Match", etag(revision[w]))
				answer, err := s.client.Do(r)
				if err != nil {
					b.Error(err)
					return
				}
				if err := answer.Body.Close(); err != nil || answer.StatusCode != 200 {
					b.Errorf("save: %d %v", answer.StatusCode, err)
				}
				mu.Lock()
				defer mu.Unlock()
				saves = append(saves, time.Since(start))
			})
		}
		group.Wait()
	}
	b.ReportMetric(viewtest.P95(reads), "read-p95-ms")
	b.ReportMetric(viewtest.P95(saves), "save-p95-ms")
}

// BenchmarkTryOverHTTP is the round trip of a try as the page makes it: the
// request, the study, the view, and its JSON.
func BenchmarkTryOverHTTP(b *testing.B) {
	s := openShop(b, b.TempDir(), true)
	s.want(200, nil, "POST", "/api/try", viewtest.Demo(b))
	var all []time.Duration
	for k := 0; b.Loop(); k++ {
		start := time.Now()
		s.want(200, nil, "POST", "/api/try", viewtest.Demo(b, viewtest.Set("parts.springs.front-46.rate", fmt.Sprintf("%d N/mm", 46+k%20))))
		all = append(all, time.Since(start))
	}
	b.ReportMetric(viewtest.P95(all), "p95-ms")
}
