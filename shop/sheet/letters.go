package sheet

import (
	"strings"
	"sync"
	"unicode"

	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/text/unicode/bidi"
	"golang.org/x/text/unicode/norm"
)

// typeface is the one the paper is set in, for the question which letters it has.
var typeface = sync.OnceValue(func() *sfnt.Font {
	f, err := sfnt.Parse(liberationsansregular.TTF)
	if err != nil {
		return nil // no letter can be vouched for then
	}
	return f
})

// missingLetter stands where the paper cannot set a letter. That is said on the
// paper: a wrong letter, or a name backwards, would be worse than none.
const missingLetter = '□'

// letters keeps what the paper can set of a text, and reports whether that was all
// of it. Left out are letters that the typeface lacks, those written from right to
// left, and marks that stand over others: nothing here shapes them. Line ends
// become spaces.
func letters(text string) (set string, all bool) {
	f := typeface()
	all = true
	var buf sfnt.Buffer
	set = strings.Map(func(r rune) rune {
		switch r {
		case '\n', '\r', '\t', '\u00a0', '\u202f':
			return ' '
		case '\u2060', '\u200b', '\ufeff', '\u00ad':
			return -1
		}
		if settable(f, &buf, r) {
			return r
		}
		all = false
		return missingLetter
	}, norm.NFC.String(text))
	return set, all
}

func settable(f *sfnt.Font, buf *sfnt.Buffer, r rune) bool {
	if f == nil || r > 0xffff || unicode.IsControl(r) || unicode.In(r, unicode.Mn, unicode.Me, unicode.Cf) {
		return false
	}
	if p, _ := bidi.LookupRune(r); p.Class() == bidi.R || p.Class() == bidi.AL {
		return false
	}
	g, err := f.GlyphIndex(buf, r)
	return err == nil && g != 0
}
