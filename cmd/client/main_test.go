package main

import (
	"testing"

	"duskline/app/room"
)

func TestEveryPlaceHasARoom(t *testing.T) {
	for _, p := range room.Places {
		if rooms[p.Path] == nil {
			t.Errorf("%s has no room", p.Path)
		}
	}
	if len(rooms) != len(room.Places) {
		t.Errorf("%d rooms for %d places", len(rooms), len(room.Places))
	}
}
