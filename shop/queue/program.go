package queue

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"io"
	"math"
	"os"
	"runtime/debug"
	"slices"
	"strings"
	"sync"

	"trunnion/shop/desk"
)

// Program says which program computes: results of others are not taken for its own, since
// a figure may differ in its last digit and an order with it. It is made of the version,
// the commit and how it was built, or, of a build that no commit says, the program's own
// bytes; and of how the processor computes.
func Program(version string) string {
	built, err := build()
	if err != nil {
		built = "unknown " + err.Error()
	}
	h := sha256.Sum256([]byte(built + "\n" + arithmetic()))
	return version + " " + hex.EncodeToString(h[:6])
}

// build is what the program was built of.
var build = sync.OnceValues(func() (string, error) {
	info, ok := debug.ReadBuildInfo()
	if ok {
		var said []string
		commit, clean := false, false
		for _, s := range info.Settings {
			switch {
			case s.Key == "vcs.revision":
				commit = s.Value != ""
				said = append(said, s.Key+"="+s.Value)
			case s.Key == "vcs.modified":
				clean = s.Value == "false"
			case strings.HasPrefix(s.Key, "GO") && s.Key != "GOOS":
				said = append(said, s.Key+"="+s.Value) // architecture, its level, experiments
			}
		}
		if commit && clean {
			slices.Sort(said)
			return info.GoVersion + " " + strings.Join(said, " "), nil
		}
	}
	path, err := os.Executable()
	if err != nil {
		return "", err
	}
	file, err := os.Open(path)
	if err != nil {
		return "", err
	}
	defer file.Close() //nolint:errcheck // it was only read
	h := sha256.New()
	if _, err := io.Copy(h, file); err != nil {
		return "", err
	}
	return hex.EncodeToString(h.Sum(nil)), nil
})

// arithmetic is the fingerprint of what the standard library makes of some numbers on this
// processor: it uses instructions that round once where others round twice, where there
// are such.
func arithmetic() string {
	h := sha256.New()
	x := 0.1
	for range 400 {
		x = math.Mod(1.7*x+0.3, 9)
		for _, v := range []float64{math.Exp(-x), math.Log(x + 1), math.Sin(x), math.Cos(x), math.Atan(x), math.Pow(x, 1.3), math.Sqrt(x), math.Cbrt(x), math.Tanh(x), x*1.1 + 0.7} {
			_ = binary.Write(h, binary.LittleEndian, math.Float64bits(v)) // a hash takes everything
		}
	}
	return fmt.Sprintf("%x %d", h.Sum(nil), desk.Lanes())
}
