package main

import (
	"crypto/sha256"
	"encoding/hex"
)

// reading is a person's reading of a text that the recogniser cannot classify.
type reading struct {
	Licences []string // those that apply to the linked packages
	Why      string
	More     string // another file that must be distributed too
}

// byHand holds the readings by the hash of the text, so that a changed text must be read again.
var byHand = map[string]reading{
	// github.com/golang/freetype LICENSE
	"d3ba056adc2b7909": {[]string{"FTL"}, "FTL or GPL, as the user chooses: FTL is chosen",
		"licenses/ftl.txt"},
	// modernc.org/sqlite LICENSE-SQLITE
	"8438c9c89b849131": {[]string{"blessing"}, "a dedication to the public domain", ""},
	// modernc.org/sqlite LICENSE-3RD-PARTY.md
	"f4a00ade8f4057ab": {[]string{"BSD-3-Clause", "MIT", "blessing"},
		"its section 1 is what is linked; MPL-2.0 is the licence of a module that its section 3 names as " +
			"compiled into nothing", ""},
	// modernc.org/libc LICENSE-3RD-PARTY.md
	"f597097efe3d9702": {[]string{"BSD-3-Clause", "MIT", "BSD-2-Clause"},
		"Go, musl and two smaller works, with the list of musl's authors; parts of musl are BSD-2-Clause " +
			"or in the public domain", ""},
	// modernc.org/memory LICENSE-LOGO
	"5ae5bee3072a8413": {nil, "the origin of a picture on its page", ""},
	// github.com/ajstarks/svgo LICENSE-link.txt
	"faef26bb83b741b2": {[]string{"CC-BY-4.0"}, "the link that its licence asks for", ""},
	// github.com/opencontainers/go-digest LICENSE.docs
	"a1d1adec3ba691ef": {nil, "of its manual, which is not linked", ""},
	// github.com/apache/arrow/go/arrow LICENSE.txt, of 2020 and of 2021
	"df5a9bd0dac6a3e3": {[]string{"Apache-2.0", "BSD-3-Clause"}, arrow, ""},
	"b9bb118a7b522be9": {[]string{"Apache-2.0", "BSD-3-Clause"}, arrow, ""},
}

const arrow = "the licences of all languages' sources of the project; its packages in Go are Apache-2.0, " +
	"with a part of Go's own"

// sum returns the beginning of the SHA-256 of a text.
func (f file) sum() string {
	s := sha256.Sum256(f.Text)
	return hex.EncodeToString(s[:8])
}
