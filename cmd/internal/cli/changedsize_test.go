package cli

import (
	"testing"

	"wyewright/network"
)

func TestChangedSize(t *testing.T) {
	pipe := func(size string) network.Piece { return network.Piece{Size: size} }
	hose := func(size string) network.Piece { return network.Piece{Size: size, Make: network.Make{Multiple: 3}} }
	for _, c := range []struct {
		was, now network.Piece
		want     string
	}{
		{pipe("200 mm"), pipe("180 mm"), "200 → 180 mm"}, {pipe("4 in"), pipe("110 mm"), "4 in → 110 mm"}, {hose("4 in"), pipe("5 in"), "4 in hose → 5 in"},
		{hose("3 in"), pipe("3 in"), "3 in hose → pipe"}, {hose("100 mm"), hose("100 mm"), "100 mm hose, new"}, {pipe("4 in"), pipe("4 in"), "4 in, new"},
		{hose("100 mm"), hose("110 mm"), "100 → 110 mm"},
	} {
		if got := changedSize(c.was, c.now); got != c.want {
			t.Errorf("%s to %s: %q, want %q", c.was.Size, c.now.Size, got, c.want)
		}
	}
}
