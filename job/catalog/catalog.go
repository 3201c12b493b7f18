// Package catalog holds equipment that a job may copy its nameplate values from.
//
// It answers: which entries are there, and with which hash were they copied in
// (from: catalog/NAME@hash)? The entries shipped with the program are invented
// and say so in their first line; people keep their own, typed from nameplates,
// in a folder of the same form. A catalogue only proposes: a document holds its
// own copy, and a later change of the entry never changes it.
package catalog

import (
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"io/fs"
	"path"
	"strings"
	"sync"

	"legwork/job"
)

// Entry is one piece of equipment: exactly one item in one list of Equipment.
type Entry struct {
	Name      string        // CB-3, the file's name without .yaml
	Hash      string        // of the file's bytes: first 12 hex digits of SHA-256
	Bytes     []byte        // the file as it stands
	Equipment job.Equipment // what it says
}

// From is what a document writes beside values copied from the entry.
func (e Entry) From() string { return "catalog/" + e.Name + "@" + e.Hash }

//go:embed data/*.yaml
var data embed.FS

// Invented lists the entries shipped with the program, by name.
var Invented = sync.OnceValue(func() []Entry {
	sub, err := fs.Sub(data, "data")
	if err != nil {
		panic(err)
	}
	entries, err := Read(sub)
	if err != nil {
		panic(err)
	}
	return entries
})

// Read reads every *.yaml of a folder as an entry, by name. Faults are
// where.Errors of the file at fault.
func Read(folder fs.FS) ([]Entry, error) {
	names, err := fs.Glob(folder, "*.yaml")
	if err != nil {
		return nil, err
	}
	var out []Entry
	for _, name := range names {
		b, err := fs.ReadFile(folder, name)
		if err != nil {
			return nil, err
		}
		e, err := job.ParseEquipment(name, b)
		if err != nil {
			return nil, err
		}
		sum := sha256.Sum256(b)
		out = append(out, Entry{
			Name: strings.TrimSuffix(path.Base(name), ".yaml"), Hash: hex.EncodeToString(sum[:])[:12],
			Bytes: b, Equipment: e,
		})
	}
	return out, nil
}
