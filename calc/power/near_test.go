package power

import (
	"math"
	"strconv"
	"strings"
	"testing"
)

// near compares with one check value of the electrical reference, written as
// it stands there: "C20.isc = 5.9500 A ± 0.01 %".
func near(t *testing.T, check string, got float64) {
	t.Helper()
	left, tol, ok := strings.Cut(check, " ± ")
	f := strings.Fields(left)
	want, err := strconv.ParseFloat(f[2], 64)
	if !ok || f[1] != "=" || err != nil {
		t.Fatalf("check %q is not written as it should be", check)
	}
	share, relative := strings.CutSuffix(tol, " %")
	slack, err := strconv.ParseFloat(share, 64)
	if err != nil {
		t.Fatal(err)
	}
	if relative {
		slack *= math.Abs(want) / 100
	}
	if !(math.Abs(got-want) <= slack) {
		t.Errorf("got %.8g, want %s", got, check)
	}
}
