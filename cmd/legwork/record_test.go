package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"legwork/internal/houses"
)

// Several programs append to one record at once: every event that was
// acknowledged is there, once and whole.
func TestRecordKeepsWhatSeveralWrite(t *testing.T) {
	job := filepath.Join(t.TempDir(), "job.yaml")
	doc := strings.Replace(string(houses.Get(t, "quillfeather").Bytes), "legwork: 1", "legwork: 1\nid: 019df39a-0000-7000-8000-00000000000a", 1)
	if err := os.WriteFile(job, []byte(doc), 0o666); err != nil {
		t.Fatal(err)
	}
	const writers, each = 4, 5
	var mu sync.Mutex
	var acknowledged []string
	var wg sync.WaitGroup
	for w := range writers {
		wg.Go(func() {
			for i := range each {
				var out, errs bytes.Buffer
				env := environment(&out, &errs)
				env.Stdin = strings.NewReader(fmt.Sprintf(`{"text":"writer %d, note %d","by":"Ana"}`, w, i))
				if code := run(context.Background(), []string{"record", job, "append", "--kind", "note"}, env); code != exitDone {
					t.Errorf("exit %d: %s", code, &errs)
					return
				}
				mu.Lock()
				acknowledged = append(acknowledged, strings.TrimSpace(out.String()))
				mu.Unlock()
			}
		})
	}
	wg.Wait()
	src, err := os.ReadFile(filepath.Join(filepath.Dir(job), "job.events.jsonl"))
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Count(string(src), "\n"); got != writers*each || len(acknowledged) != got {
		t.Errorf("%d lines, %d acknowledged, want %d", got, len(acknowledged), writers*each)
	}
	for _, id := range acknowledged {
		if strings.Count(string(src), `"id":"`+id+`"`) != 1 {
			t.Errorf("event %s is not there once", id)
		}
	}
	var out, errs bytes.Buffer
	if code := run(context.Background(), []string{"record", job, "list"}, environment(&out, &errs)); code != exitDone || errs.Len() > 0 {
		t.Errorf("exit %d: %s", code, &errs)
	}
}
