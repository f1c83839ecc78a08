// Package strength answers what a person can give a control: how much force
// and travel in which direction, rested and tired, how steadily, how surely
// let go of; and how that stands against what the control asks.
//
// Forces are in gram-force, lengths in millimetres, times in seconds. Nothing
// is guessed: what was not measured is missing and says what is needed. The
// one assumption, the tired factor, is marked as assumed wherever it is used.
// Readings taken with the limb or head held up and without are never mixed.
package strength
