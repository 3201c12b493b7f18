package web

import (
	"errors"
	"net/http"
	"strconv"

	"legwork/store"
	"legwork/where"
)

// putFile keeps a photo under the hash that the device names.
func (y *syncing) putFile(w http.ResponseWriter, r *http.Request) (any, error) {
	want := r.PathValue("sha256")
	if !store.IsHash(want) {
		return nil, refuse(http.StatusBadRequest, "sha256", strconv.Quote(want), "64 lower-case hexadecimal digits", "")
	}
	b, done, err := y.body(w, r, store.MaxBlob)
	defer done()
	if err != nil {
		return nil, err
	}
	if got := store.Hash(b); got != want {
		return nil, refuse(http.StatusBadRequest, "sha256", "bytes with the hash "+got, "bytes with the hash "+want, "send it again")
	}
	hash, err := y.record.PutBlob(r.Context(), b)
	var at where.Error
	if errors.As(err, &at) {
		return nil, refusal{http.StatusBadRequest, at}
	}
	return syncFile{"sync/1", hash}, err
}

// getFile gives the bytes of a hash, never as a page.
func (y *syncing) getFile(w http.ResponseWriter, r *http.Request) (any, error) {
	hash := r.PathValue("sha256")
	b, err := y.record.Blob(r.Context(), hash)
	if errors.Is(err, store.ErrNotFound) {
		return nil, refuse(http.StatusNotFound, "sha256", strconv.Quote(hash), "the hash of a file of this server", "")
	}
	if err != nil {
		return nil, err
	}
	w.Header().Set("Content-Type", "application/octet-stream")
	w.Header().Set("Content-Disposition", "attachment")
	_, _ = w.Write(b)
	return nil, nil
}
