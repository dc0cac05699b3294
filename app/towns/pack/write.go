package main

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"slices"
	"strings"
)

// pack writes the file that app/towns.Load reads; the format stands there.
func pack(list []*town, origin string) ([]byte, error) {
	b := fmt.Appendf(nil, "duskline towns 1\t%s\t%d\n", origin, len(list))
	section := func(data []byte) {
		b = binary.AppendUvarint(b, uint64(len(data)))
		b = append(b, data...)
	}
	section([]byte(foldings(list)))
	section(runs(list))

	var zones []string
	for _, t := range list {
		if !slices.Contains(zones, t.zone) {
			zones = append(zones, t.zone)
		}
	}
	slices.Sort(zones)
	section([]byte(strings.Join(zones, "\n")))
	var zoneOf []byte
	for i := 0; i < len(list); {
		j := i
		for j < len(list) && list[j].zone == list[i].zone {
			j++
		}
		zoneOf = binary.AppendUvarint(zoneOf, uint64(slices.Index(zones, list[i].zone)))
		zoneOf = binary.AppendUvarint(zoneOf, uint64(j-i))
		i = j
	}
	section(zoneOf)

	differences := func(of func(t *town) float64) {
		var high, low []byte
		before := int16(0)
		for _, t := range list {
			v := int16(math.Round(of(t) * 100))
			d := v - before // wraps on purpose
			z := uint16(d<<1) ^ uint16(d>>15)
			high, low, before = append(high, byte(z>>8)), append(low, byte(z)), v
		}
		section(high)
		section(low)
	}
	differences(func(t *town) float64 { return t.lat })
	differences(func(t *town) float64 { return t.lon })

	var altHigh, altLow, people []byte
	var names, others bytes.Buffer
	for i, t := range list {
		a := 0
		if t.height {
			a = int(math.Round(float64(t.altitude)/10)) + 51
		}
		altHigh, altLow = append(altHigh, byte(a>>8)), append(altLow, byte(a))
		people = append(people, byte(math.Round(math.Log2(float64(t.people)+1)*3)))
		if i > 0 {
			names.WriteByte('\n')
			others.WriteByte('\n')
		}
		names.WriteString(t.name)
		others.WriteString(strings.Join(t.others, "\t"))
	}
	for _, s := range [][]byte{altHigh, altLow, people, names.Bytes(), others.Bytes()} {
		section(s)
	}
	for _, t := range list {
		if strings.ContainsAny(t.name+strings.Join(t.others, ""), "\t\n") || strings.ContainsAny(t.admin+t.zone, "\t\n") {
			return nil, fmt.Errorf("%s: a tab or a line break in a name", t.name)
		}
	}
	return b, nil
}

// runs lists the regions in the order of the towns, with how many each has.
func runs(list []*town) []byte {
	var b []byte
	for i := 0; i < len(list); {
		j := i
		for j < len(list) && list[j].country == list[i].country && list[j].admin == list[i].admin {
			j++
		}
		b = fmt.Appendf(b, "%s%s\t%d\n", list[i].country, list[i].admin, j-i)
		i = j
	}
	return b
}
