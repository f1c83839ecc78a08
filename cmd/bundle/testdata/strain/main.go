// Command strain leans on what the Go runtime reads its function tables for:
// stacks that grow and move, garbage collection in the middle of deep calls,
// deferred calls and recovered panics, finalizers, goroutines. What it prints
// must not depend on whether the tables were stripped. It ends in a panic.
package main

import "runtime"

type node struct {
	left, right *node
	label       string
	numbers     []int
}

func grow(depth int) *node {
	if depth == 0 {
		return nil
	}
	return &node{grow(depth - 1), grow(depth - 1), string(rune('a' + depth)), make([]int, depth)}
}

func (n *node) sum() int {
	if n == nil {
		return 0
	}
	return n.left.sum() + n.right.sum() + len(n.label) + len(n.numbers)
}

// deep keeps a pointer into its own frame and one to the heap on every level,
// and collects at the bottom.
func deep(level int, above *int, made []*node) int {
	here, mine := level+*above%7, grow(2)
	if level == 0 {
		runtime.GC()
		return here + mine.sum()
	}
	below := deep(level-1, &here, append(made, mine))
	return below + here + mine.sum() + len(made)
}

func caught(name string, do func()) {
	defer func() {
		switch r := recover().(type) {
		case nil:
			println(name, "returned")
		case error:
			println(name, "error:", r.Error())
		case string:
			println(name, "panic:", r)
		}
	}()
	defer runtime.GC()
	do()
}

func panics() {
	var list []int
	var entries map[string]int
	var any interface{} = "text"
	var nobody *node
	caught("index", func() { list[len(any.(string))]++ })
	caught("map", func() { entries["a"] = 1 })
	caught("type", func() { println(any.(int)) })
	caught("nil", func() { nobody.label = "x" })
	caught("word", func() { panic("a word") })
	caught("twice", func() {
		defer func() { panic("the second") }()
		panic("the first")
	})
	caught("none", func() {})
}

func goroutines() int {
	in, out := make(chan *node), make(chan int)
	for range 8 {
		go func() {
			for n := range in {
				out <- n.sum() + deep(50, new(int), nil)
			}
		}()
	}
	go func() {
		for i := range 40 {
			in <- grow(i % 9)
		}
		close(in)
	}()
	total := 0
	for i := range 40 {
		total += <-out
		if i%5 == 0 {
			runtime.GC()
		}
	}
	return total
}

func finalizers() int {
	done := make(chan int, 10)
	for i := range 10 {
		runtime.SetFinalizer(&node{label: "gone", numbers: make([]int, i)}, func(n *node) { done <- len(n.numbers) })
	}
	for len(done) < 10 {
		runtime.GC()
		runtime.Gosched()
	}
	return len(done)
}

func main() {
	kept := grow(14)
	println("deep", deep(20_000, new(int), nil))
	panics()
	println("goroutines", goroutines())
	println("finalizers", finalizers())
	byNode := map[interface{}]int{}
	for i := range 5_000 {
		byNode[[2]int{i, i % 7}] = grow(i % 4).sum()
	}
	println("map", len(byNode), byNode[[2]int{4_999, 1}], "kept", kept.sum())
	panic("the last straw")
}
