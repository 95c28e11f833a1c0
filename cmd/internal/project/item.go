package project

import (
	"fmt"
	"strings"

	"wyewright/optimize/price"
)

// parseItem reads the name of a price's item: the kind of part, then, parted
// by commas, its family and its sizes: "pipe, dust spiral, 160 mm",
// "wye, snap-lock, 5 in, 4 in", "hanger".
func parseItem(s string) (price.Item, error) {
	fields := strings.Split(s, ",")
	for i := range fields {
		fields[i] = strings.TrimSpace(fields[i])
	}
	kind, err := price.ParseKind(fields[0])
	if err != nil {
		return price.Item{}, err
	}
	item := price.Item{Kind: kind}
	rest := fields[1:]
	if len(rest) > 0 && !startsWithDigit(rest[0]) {
		item.Family, rest = rest[0], rest[1:]
	}
	if len(rest) > len(item.Sizes) {
		return price.Item{}, fmt.Errorf("project: price of %q: more sizes than such a part has", s)
	}
	copy(item.Sizes[:], rest)
	return item, nil
}

func startsWithDigit(s string) bool { return s != "" && s[0] >= '0' && s[0] <= '9' }
