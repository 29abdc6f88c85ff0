package frame

import (
	"fmt"
	"strings"
)

// ReadError says that a frame file could not be read. It wraps the system's error.
type ReadError struct {
	Path string
	Err  error
}

// Error returns the path and the reason.
func (e *ReadError) Error() string {
	reason := e.Err.Error()
	if i := strings.LastIndex(reason, ": "); i >= 0 {
		reason = reason[i+2:] // the path stands at the front already
	}
	return fmt.Sprintf("%s can't be read: %s", e.Path, reason)
}

// Unwrap returns the system's error.
func (e *ReadError) Unwrap() error { return e.Err }

// SetError says that a setting on the command line does not fit the frame file.
type SetError struct {
	Setting string // as it was given
	Problem string
	Remedy  string // "" where there is none
}

// Error returns setting, problem and remedy.
func (e *SetError) Error() string {
	text := fmt.Sprintf("--set %s: %s", string(printable(e.Setting)), e.Problem)
	if e.Remedy != "" {
		text += " " + e.Remedy
	}
	return text
}

// nearestName returns the name most like a misspelt one, or "". Names of one length class come in the order given,
// so that the answer is the same on every run.
func nearestName(wrong string, names []string) string {
	a := []rune(strings.ToLower(wrong))
	if len(a) > 60 {
		return ""
	}
	best, limit := "", min(max(1, (len(a)+1)/3), len(a)-1)
	for _, name := range names {
		b := []rune(strings.ToLower(name))
		if len(b) > 60 || len(b)-len(a) > limit || len(a)-len(b) > limit {
			continue
		}
		if d := editDistance(a, b, limit); d <= limit {
			best, limit = name, d-1
			if limit < 0 {
				break
			}
		}
	}
	return best
}

// EditDistance returns how many letters must be added, dropped, changed or swapped with their neighbour to turn one
// name into another, or limit+1 where that is more than the limit. Names over 60 letters are unlike any other.
func EditDistance(a, b string, limit int) int {
	if max(len(a), len(b)) > 60 {
		return limit + 1
	}
	return editDistance([]rune(a), []rune(b), limit)
}

// editDistance returns how many letters must be added, dropped, changed or swapped with their
// neighbour to turn a into b, or limit+1 where that is more than the limit.
func editDistance(a, b []rune, limit int) int {
	before, last, now := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		now[0] = i
		low := i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			now[j] = min(last[j]+1, now[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				now[j] = min(now[j], before[j-2]+1)
			}
			low = min(low, now[j])
		}
		if low > limit {
			return limit + 1
		}
		before, last, now = last, now, before
	}
	return last[len(b)]
}

// didYouMean returns a remedy that names the nearest known name, else lists the names where they are few.
func didYouMean(wrong string, names []string) string {
	if n := nearestName(wrong, names); n != "" {
		return fmt.Sprintf("Did you mean %q?", n)
	}
	if len(names) > 0 && len(names) <= 24 {
		return "Known: " + strings.Join(names, ", ") + "."
	}
	return ""
}
