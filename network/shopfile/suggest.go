package shopfile

import (
	"fmt"
	"strings"
)

// Nearest returns the known word that is closest to the given one, or "" when
// none is close enough to be what was meant. Case does not count.
func Nearest(word string, known []string) string {
	best, bestDistance := "", 0
	low := strings.ToLower(word)
	for _, k := range known {
		d := distance(low, strings.ToLower(k))
		if best == "" || d < bestDistance {
			best, bestDistance = k, d
		}
	}
	// A third of the letters may be wrong, and always one of them.
	if best == "" || bestDistance > max(1, len([]rune(word))/3) {
		return ""
	}
	return best
}

// distance is the number of letters to insert, drop, change or swap with the
// next one that turns a into b (optimal string alignment, Damerau 1964,
// Commun ACM 7:171).
func distance(a, b string) int {
	s, t := []rune(a), []rune(b)
	before, last := make([]int, len(t)+1), make([]int, len(t)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(s); i++ {
		row := make([]int, len(t)+1)
		row[0] = i
		for j := 1; j <= len(t); j++ {
			change := 1
			if s[i-1] == t[j-1] {
				change = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+change)
			if i > 1 && j > 1 && s[i-1] == t[j-2] && s[i-2] == t[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last = last, row
	}
	return last[len(t)]
}

// didYouMean is a hint that offers the nearest known word, or else the list.
func didYouMean(word string, known []string) string {
	if n := Nearest(word, known); n != "" {
		return fmt.Sprintf("did you mean %q?", n)
	}
	return "known: " + list(known, 12)
}

// list joins at most n words with commas and says how many are left out.
func list(words []string, n int) string {
	if len(words) == 0 {
		return "none"
	}
	if len(words) <= n {
		return strings.Join(words, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(words[:n], ", "), len(words)-n)
}

// familyHint offers the family that was meant: the nearest word, those that have
// the word in their name, hose for what bends, or else the list.
func familyHint(word string, known []string) string {
	if n := Nearest(word, known); n != "" {
		return fmt.Sprintf("did you mean %q?", n)
	}
	low := strings.ToLower(word)
	var like []string
	for _, k := range known {
		if len(low) > 2 && strings.Contains(strings.ToLower(k), low) {
			like = append(like, fmt.Sprintf("%q", k))
		}
	}
	switch {
	case len(like) > 0:
		return "did you mean one of " + strings.Join(like, ", ") + "?"
	case strings.Contains(low, "flex"):
		return "flexible duct is called hose; known: " + list(known, 12)
	}
	return "known: " + list(known, 12)
}
