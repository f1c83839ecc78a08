package fields

// index returns the place of the first mark, or -1. In the browser, the
// library's search would bring all of package strings with it.
func index(text string, mark byte) int {
	for i := range len(text) {
		if text[i] == mark {
			return i
		}
	}
	return -1
}
