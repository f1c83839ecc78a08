package intake

// mostRecent is how many subjects are kept between commits. A visit in
// progress has about 100 KB.
const mostRecent = 64

// recent keeps the subjects that the last commits looked at, so that an answer
// to a visit in progress does not fold the whole visit anew. Only the writer
// uses it.
type recent struct {
	subjects map[string]*subject
	// head is the log's last position when they were kept.
	head int64
}

// take hands the subjects out. They are forgotten until they are kept again,
// so that a commit that fails leaves nothing behind; and they are worth
// nothing when somebody else wrote to the log.
func (r *recent) take(head int64) map[string]*subject {
	subjects := r.subjects
	r.subjects = nil
	if subjects == nil || r.head != head {
		return make(map[string]*subject)
	}
	return subjects
}

// keep keeps the subjects of a commit that is durable.
func (r *recent) keep(c *commit) {
	r.head = c.head
	if len(c.subjects) > mostRecent {
		for id, s := range c.subjects {
			if !s.changed {
				delete(c.subjects, id)
			}
		}
	}
	if len(c.subjects) > mostRecent {
		return
	}
	for _, s := range c.subjects {
		s.changed, s.unreadable = false, false
	}
	r.subjects = c.subjects
}
