package store

import (
	"crypto/sha256"
	"encoding/hex"
	"strings"
)

// Hash is the SHA-256 of b in lower case hexadecimal, the name of a blob.
func Hash(b []byte) string {
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:])
}

// IsHash reports whether s is written as Hash writes.
func IsHash(s string) bool {
	return len(s) == 2*sha256.Size && strings.Trim(s, "0123456789abcdef") == ""
}
