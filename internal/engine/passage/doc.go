// Package passage says whether a chair with its control, hands and feet gets
// through doors, round corners, through turns and up ramps, where it is
// tightest and how many millimetres are left there.
//
// Lengths are millimetres. The chair's own frame has its origin at the middle
// of the drive axle, x forward and y to the left. In a plan x goes right, y
// up, and headings are degrees counted against the clock from x.
//
// Each passage is judged twice: by a lower bound that holds for any motion at
// all, also sideways, and by the best line of one turn about the drive axle,
// which a driver can really drive. Between the two lies "several small moves".
package passage
