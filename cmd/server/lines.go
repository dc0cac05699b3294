package main

import (
	"bytes"
	"encoding/binary"
	"errors"
)

// The compiled client carries, for every instruction, the file and line that
// it was compiled from, so that a crash can name them: a tenth of what travels
// to a phone, for nobody who could read it there. The site's program goes
// without; the names of functions stay. `make build` leaves it as compiled.
//
// The table is the runtime's own ("pclntab"). Every function has a record with
// the places of its tables of files and of lines: these become 0, which the
// runtime reads as "not known", and what only they pointed to becomes zeroes.
// Nothing moves.
//
// Source: Go 1.20 to 1.26, runtime/symtab.go (pcHeader, funcTab, _func).

// errLayout says that a program is not laid out as this code knows it.
var errLayout = errors.New("the table of lines is not where Go 1.20 to 1.26 put it")

// Places in a function's record, bytes.
const (
	recordStack  = 16 // place of the table of stack heights
	recordFiles  = 20
	recordLines  = 24
	recordTables = 28 // how many more tables there are
	recordStart  = 36 // line of the function
	recordLength = 44 // then the places of these tables, 4 bytes each
)

// withoutLines returns a compiled program without its table of lines.
//
// Errors: errLayout.
func withoutLines(program []byte) (out []byte, err error) {
	defer func() {
		if recover() != nil { // an index out of range: not what we took it for
			out, err = nil, errLayout
		}
	}()
	m := readMemory(program)
	head := m.find()
	if head < 0 {
		return nil, errLayout
	}
	functions := int(m.u64(head + 8))
	tables, records := head+int(m.u64(head+56)), head+int(m.u64(head+64))
	keep, drop := map[int]bool{0: true}, map[int]bool{}
	for k := range functions {
		r := records + m.u32(records+8*k+4)
		keep[m.u32(r+recordStack)] = true
		for n := range m.u32(r + recordTables) {
			keep[m.u32(r+recordLength+4*n)] = true
		}
		drop[m.u32(r+recordFiles)], drop[m.u32(r+recordLines)] = true, true
		for _, at := range []int{recordFiles, recordLines, recordStart} {
			binary.LittleEndian.PutUint32(m.bytes[r+at:], 0)
		}
	}
	for place := range drop {
		if keep[place] {
			continue
		}
		from := tables + place
		to := m.endOfTable(from)
		if to > records {
			return nil, errLayout
		}
		clear(m.bytes[from:to])
	}
	return m.write(program), nil
}

// A memory is what a program's data segments make of its memory at the start.
type memory struct {
	bytes    []byte
	segments []segment
}

type segment struct{ address, offset, length int }

// readMemory lays the active data segments of a program out.
//
// Source: WebAssembly core specification, binary format, data section.
func readMemory(program []byte) *memory {
	m := &memory{}
	for p := 8; p < len(program); {
		id := program[p]
		size, q := leb(program, p+1)
		if id == 11 {
			m.segments = dataSegments(program, q)
		}
		p = q + size
	}
	end := 0
	for _, s := range m.segments {
		end = max(end, s.address+s.length)
	}
	m.bytes = make([]byte, end)
	for _, s := range m.segments {
		copy(m.bytes[s.address:], program[s.offset:s.offset+s.length])
	}
	return m
}

func dataSegments(program []byte, p int) []segment {
	count, p := leb(program, p)
	list := make([]segment, 0, count)
	for range count {
		// flags 0, then "i32.const address" and "end"
		if program[p] != 0 || program[p+1] != 0x41 {
			return nil
		}
		address, q := leb(program, p+2)
		if program[q] != 0x0b {
			return nil
		}
		length, q := leb(program, q+1)
		list = append(list, segment{address, q, length})
		p = q + length
	}
	return list
}

// write puts the memory back into the places it came from.
func (m *memory) write(program []byte) []byte {
	out := bytes.Clone(program)
	for _, s := range m.segments {
		copy(out[s.offset:s.offset+s.length], m.bytes[s.address:])
	}
	return out
}

// find returns the address of the table's head, -1 without one: its magic
// number, an instruction's least length of 1, addresses of 8 bytes, and a
// number of functions that a program may have.
func (m *memory) find() int {
	magic := []byte{0xf1, 0xff, 0xff, 0xff, 0, 0, 1, 8}
	for at := 0; ; at++ {
		k := bytes.Index(m.bytes[at:], magic)
		if k < 0 {
			return -1
		}
		at += k
		if n := m.u64(at + 8); n > 100 && n < 1_000_000 {
			return at
		}
	}
}

func (m *memory) u32(at int) int    { return int(binary.LittleEndian.Uint32(m.bytes[at:])) }
func (m *memory) u64(at int) uint64 { return binary.LittleEndian.Uint64(m.bytes[at:]) }

// endOfTable returns where a table ends: pairs of a step of its value and a
// step of the program counter, until a step of 0 that is not the first.
func (m *memory) endOfTable(at int) int {
	for first := true; ; first = false {
		step, next := leb(m.bytes, at)
		if step == 0 && !first {
			return next
		}
		_, at = leb(m.bytes, next)
	}
}

// leb reads a LEB128 number that is not negative. Addresses are signed in the
// format, but none is under 0.
func leb(b []byte, at int) (value, next int) {
	for shift := 0; ; shift += 7 {
		value |= int(b[at]&0x7f) << shift
		at++
		if b[at-1] < 0x80 {
			return value, at
		}
	}
}
