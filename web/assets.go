package web

import (
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"fmt"
	"net/http"
	"path"

	"legwork/scene/font"
)

//go:embed dist
var dist embed.FS

// asset is a file that pages load, with a tag made from its bytes: embedded
// files carry no time.
type asset struct {
	mediaType, tag string
	data           []byte
}

var mediaTypes = map[string]string{
	".js":    "text/javascript; charset=utf-8",
	".css":   "text/css; charset=utf-8",
	".woff2": "font/woff2",
	".svg":   "image/svg+xml",
	".txt":   "text/plain; charset=utf-8",
}

func newAsset(name string, data []byte) (asset, error) {
	mt, ok := mediaTypes[path.Ext(name)]
	if !ok {
		return asset{}, fmt.Errorf("asset %s: no media type known for %q", name, path.Ext(name))
	}
	sum := sha256.Sum256(data)
	return asset{mt, `"` + hex.EncodeToString(sum[:12]) + `"`, data}, nil
}

// loadAssets gathers the bundle and the faces, by file name.
func loadAssets() (map[string]asset, error) {
	files := map[string][]byte{"OFL.txt": []byte(font.License())}
	for _, f := range font.Faces {
		files[f.WebName()] = f.WOFF2()
	}
	bundle, err := dist.ReadDir("dist")
	if err != nil {
		return nil, err
	}
	for _, e := range bundle {
		if files[e.Name()], err = dist.ReadFile("dist/" + e.Name()); err != nil {
			return nil, err
		}
	}
	all := map[string]asset{}
	for name, data := range files {
		if all[name], err = newAsset(name, data); err != nil {
			return nil, err
		}
	}
	return all, nil
}

func (s *site) getAsset(w http.ResponseWriter, r *http.Request) error {
	a, ok := s.assets[r.PathValue("name")]
	if !ok {
		return ErrNotFound
	}
	h := w.Header()
	h.Set("Cache-Control", "no-cache") // ask again each time; the tag makes it cheap
	h.Set("ETag", a.tag)
	if r.Header.Get("If-None-Match") == a.tag {
		w.WriteHeader(http.StatusNotModified)
		return nil
	}
	h.Set("Content-Type", a.mediaType)
	_, err := w.Write(a.data)
	return err
}
