//go:build !race

package passage_test

// chairsSearched is how many random chairs are compared with the search.
const chairsSearched = 200
