package golden

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// A Sheet is a table of reference vectors: CSV with one header row.
type Sheet struct {
	t    testing.TB
	name string
	col  map[string]int
	rows [][]string
}

// Vectors reads testdata/<pkg>/<file>, or the same file name in the flat
// folder named by DUSKLINE_VECTORS. A file missing there skips the test
// aloud; a file missing in testdata fails it.
func Vectors(t testing.TB, pkg, file string) *Sheet {
	t.Helper()
	path := filepath.Join("..", "..", "testdata", pkg, file)
	if dir := os.Getenv("DUSKLINE_VECTORS"); dir != "" {
		path = filepath.Join(dir, file)
		if _, err := os.Stat(path); os.IsNotExist(err) {
			t.Skipf("%s is not in DUSKLINE_VECTORS: nothing was checked", file)
		}
	}
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(all) < 2 {
		t.Fatalf("%s holds no rows", path)
	}
	s := &Sheet{t: t, name: file, col: map[string]int{}, rows: all[1:]}
	for i, h := range all[0] {
		s.col[h] = i
	}
	return s
}

// Len returns the number of rows.
func (s *Sheet) Len() int { return len(s.rows) }

// Text returns a field as written. An unknown column fails the test.
func (s *Sheet) Text(row int, col string) string {
	s.t.Helper()
	i, ok := s.col[col]
	if !ok {
		s.t.Fatalf("%s has no column %s", s.name, col)
	}
	return s.rows[row][i]
}

// Num returns a field as a number, NaN if it is empty.
func (s *Sheet) Num(row int, col string) float64 {
	s.t.Helper()
	text := s.Text(row, col)
	if text == "" {
		return math.NaN()
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		s.t.Fatalf("%s row %d: %s is no number: %q", s.name, row+2, col, text)
	}
	return v
}

// Worst keeps the largest error of one quantity and prints it at the end.
type Worst struct {
	What  string  // "zenith, °"
	Limit float64 // an error above it fails
	worst float64
	row   int
	n     int
}

// Add counts one error, as a positive or negative number. NaN counts as endless.
func (w *Worst) Add(row int, err float64) {
	w.n++
	if e := math.Abs(err); e > w.worst || math.IsNaN(e) {
		w.worst, w.row = e, row
		if math.IsNaN(e) {
			w.worst = math.Inf(1)
		}
	}
}

// Report logs the worst error and fails the test if it is above the limit, or
// if nothing was counted.
func (w *Worst) Report(t testing.TB) {
	t.Helper()
	t.Logf("worst error, %s: %.3g of %.3g allowed (row %d, %d rows)", w.What, w.worst, w.Limit, w.row+2, w.n)
	if w.n == 0 {
		t.Errorf("%s: no row was checked", w.What)
	}
	if w.worst > w.Limit {
		t.Errorf("%s: worst error %.3g is above %.3g (row %d)", w.What, w.worst, w.Limit, w.row+2)
	}
}
