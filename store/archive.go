package store

import (
	"fmt"
	"regexp"
	"strconv"
	"time"

	"legwork/field"
	"legwork/where"
)

// An archive is one ZIP file that holds a whole store: docs/formats/archive.md.
// Its manifest names every other file with length and SHA-256.
const (
	manifestName  = "manifest.json"
	archiveSchema = "archive/1"
)

// Limits of an archive that is read.
const (
	maxFiles    = 1 << 20   // files of an archive
	maxManifest = 256 << 20 // bytes; some 200 for each file
	maxJob      = 64 << 10
	maxHistory  = 64 << 20 // bytes of the list of a job's revisions
	maxTotal    = 64 << 30 // bytes of all files
)

type manifest struct {
	Schema string         `json:"schema"`
	Made   string         `json:"made"`
	Files  []manifestFile `json:"files"`
}

type manifestFile struct {
	Name   string `json:"name"`
	Bytes  int64  `json:"bytes"`
	SHA256 string `json:"sha256"`
}

// archivedJob is jobs/ID/job.json.
type archivedJob struct {
	ID      field.ID `json:"id"`
	Name    string   `json:"name"`
	Created string   `json:"created"`
}

// archivedRevision is a line of jobs/ID/revisions.jsonl; the bytes stand in
// jobs/ID/revisions/N.yaml.
type archivedRevision struct {
	N      int    `json:"n"`
	SHA256 string `json:"sha256"`
	Parent string `json:"parent"`
	Author string `json:"author"`
	Time   string `json:"time"`
}

func archive(r Revision) archivedRevision {
	return archivedRevision{r.N, r.SHA256, r.Parent, r.Author, field.FormatTime(r.Time)}
}

// Paths inside an archive.
func jobPath(id field.ID, name string) string { return "jobs/" + string(id) + "/" + name }
func revisionPath(id field.ID, n int) string {
	return jobPath(id, "revisions/"+strconv.Itoa(n)+".yaml")
}
func blobPath(sha256 string) string { return "blobs/" + sha256 }

// kinds of files by the form of their names, with the most bytes of one. A name
// that fits none is refused, so that no path leads anywhere else.
var kinds = []struct {
	form *regexp.Regexp
	most int64
}{
	{regexp.MustCompile(`^jobs/([0-9a-f-]{36})/job\.json$`), maxJob},
	{regexp.MustCompile(`^jobs/([0-9a-f-]{36})/revisions\.jsonl$`), maxHistory},
	{regexp.MustCompile(`^jobs/([0-9a-f-]{36})/revisions/[1-9][0-9]{0,8}\.yaml$`), MaxDocument},
	{regexp.MustCompile(`^jobs/([0-9a-f-]{36})/(events|disputed)\.jsonl$`), maxTotal},
	{regexp.MustCompile(`^blobs/[0-9a-f]{64}$`), MaxBlob},
	{regexp.MustCompile(`^manifest\.json$`), maxManifest},
}

// mostOf is the most bytes that a file of an archive may have.
func mostOf(name string) (int64, error) {
	for _, k := range kinds {
		m := k.form.FindStringSubmatch(name)
		if m == nil {
			continue
		}
		if len(m) > 1 {
			if _, err := field.ParseID(m[1]); err != nil {
				break
			}
		}
		return k.most, nil
	}
	return 0, where.Error{Path: strconv.Quote(name), Came: "a file of this name", Expected: "only what an archive holds: docs/formats/archive.md"}
}

// Contents counts what an archive holds.
type Contents struct {
	Made                                     time.Time
	Jobs, Revisions, Events, Disputed, Blobs int
}

func (c Contents) String() string {
	return fmt.Sprintf("%d jobs, %d revisions, %d events, %d disputed events, %d files",
		c.Jobs, c.Revisions, c.Events, c.Disputed, c.Blobs)
}
