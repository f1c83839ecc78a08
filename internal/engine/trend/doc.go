// Package trend says what is change and what is noise between visits, how
// fast a force falls and when a control may become too heavy, and how far two
// raters agree.
//
// Time is counted in whole days, forces in gf where noise is judged and in any
// one unit elsewhere. Results are rounded as their documentation says.
package trend
