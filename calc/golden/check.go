package golden

import (
	"math"
	"strconv"
	"strings"
	"testing"
)

// Check compares with one published check value, written as it stands in its
// reference: a key, a number, a unit and a tolerance, which is a share if it
// is in percent: "C20.isc = 5.9500 A ± 0.01 %". NaN never agrees.
func Check(t testing.TB, check string, got float64) {
	t.Helper()
	left, tol, ok := strings.Cut(check, " ± ")
	f := strings.Fields(left)
	if !ok || len(f) < 3 || f[1] != "=" {
		t.Fatalf("check %q is not written as it should be", check)
	}
	want, err := strconv.ParseFloat(f[2], 64)
	share, relative := strings.CutSuffix(tol, " %")
	slack, err2 := strconv.ParseFloat(share, 64)
	if err != nil || err2 != nil {
		t.Fatalf("check %q is not written as it should be", check)
	}
	if relative {
		slack *= math.Abs(want) / 100
	}
	if !(math.Abs(got-want) <= slack) {
		t.Errorf("got %.8g, want %s", got, check)
	}
}
