package pairing

import (
	"math/bits"
	"slices"

	"duskline/calc/plan"
)

// Which joinings of one's own panels are tried. The decision: up to four kinds
// every choice of them; of more only each alone, every two and all, because the
// number of choices doubles with each kind.

// mostKinds is how many kinds are tried in every choice.
const mostKinds = 4

// subsets returns the choices of n kinds, small ones first.
func subsets(n int) (list [][]int, whole bool) {
	whole = n <= mostKinds
	for size := 1; size <= n; size++ {
		if !whole && size > 2 && size < n {
			continue
		}
		if size == n && n > 2 && !whole {
			all := make([]int, n)
			for i := range all {
				all[i] = i
			}
			list = append(list, all)
			continue
		}
		list = append(list, choose(n, size)...)
	}
	return list, whole
}

// choose returns all choices of so many out of n, n to 16 and size to 2, or n
// to 4.
func choose(n, size int) (list [][]int) {
	for mask := range uint32(1) << n {
		if bits.OnesCount32(mask) != size {
			continue
		}
		var one []int
		for i := range n {
			if mask>>i&1 == 1 {
				one = append(one, i)
			}
		}
		list = append(list, one)
	}
	return list
}

// joinings returns the plan's panels as they stand, and then every other way
// to take them: one panel of a kind, all of a kind and several kinds, side by
// side and end to end, and, where several kinds have several panels, each kind
// a string of its own, the strings side by side.
func joinings(p plan.Panels) (list []choice, whole bool) {
	n := len(p.List)
	sets, whole := subsets(n)
	if n == 0 {
		return nil, true
	}
	all := make([]int, n)
	for i := range all {
		all[i] = i
	}
	list = append(list, choice{panels: p, kinds: all, asIs: true})
	for _, kinds := range sets {
		for _, c := range ways(p, kinds) {
			if len(kinds) < n || !alike(c, p) {
				list = append(list, choice{panels: c, kinds: kinds})
			}
		}
	}
	return list, whole
}

// ways returns the ways to join some kinds.
func ways(p plan.Panels, kinds []int) (list []plan.Panels) {
	add := func(how plan.Joined, each func(k int, l *plan.Panel)) {
		q := p
		q.Joined, q.List = how, make([]plan.Panel, 0, len(kinds))
		for k, i := range kinds {
			l := p.List[i]
			if each != nil {
				each(k, &l)
			}
			q.List = append(q.List, l)
		}
		list = append(list, q)
	}
	count, several := 0, 0
	for _, i := range kinds {
		count += p.List[i].Count
		if p.List[i].Count > 1 {
			several++
		}
	}
	if len(kinds) == 1 {
		add(plan.SideBySide, func(_ int, l *plan.Panel) { l.Count = 1 })
		if count == 1 {
			return list
		}
	}
	add(plan.SideBySide, nil)
	add(plan.EndToEnd, nil)
	if len(kinds) > 1 && several > 0 {
		add(plan.InStrings, func(k int, l *plan.Panel) { l.String = k + 1 })
	}
	return list
}

// alike says whether panels are all the plan's, joined as there.
func alike(a, b plan.Panels) bool {
	count := 0
	for i := range a.List {
		if a.List[i].Count != b.List[i].Count {
			return false
		}
		count += a.List[i].Count
	}
	if count == 1 {
		return true
	}
	return a.Joined == b.Joined && (a.Joined != plan.InStrings || slices.Equal(grouped(a), grouped(b)))
}

// grouped returns for each entry the place of the first one of its string.
func grouped(p plan.Panels) (out []int) {
	for i := range p.List {
		out = append(out, slices.IndexFunc(p.List, func(l plan.Panel) bool { return l.String == p.List[i].String }))
	}
	return out
}

// mixtures returns the choices of two kinds or more that are not all alike.
func mixtures(p plan.Panels) (list [][]int) {
	sets, _ := subsets(len(p.List))
	for _, kinds := range sets {
		first := p.List[kinds[0]]
		if slices.ContainsFunc(kinds, func(i int) bool { return unlike(first, p.List[i]) }) {
			list = append(list, kinds)
		}
	}
	return list
}

// unlike says whether two entries are panels of another make, wherever they
// lie.
func unlike(a, b plan.Panel) bool {
	if a.RatedW != b.RatedW || a.Technology != b.Technology || (a.Datasheet == nil) != (b.Datasheet == nil) {
		return true
	}
	return a.Datasheet != nil && *a.Datasheet != *b.Datasheet
}
