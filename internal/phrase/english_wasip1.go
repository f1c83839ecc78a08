package phrase

// english is what LoadEnglish was given.
var english = &Catalogue{Language: "en"}

// English returns the English catalogue as it was loaded. In the browser it is a
// file of its own: inside the program it would bring the packages embed, io/fs
// and time with it.
func English() *Catalogue { return english }

// LoadEnglish sets the English catalogue, whose text Parse reads. What was made
// with the earlier one keeps that.
func LoadEnglish(text string) error {
	c, err := Parse("en", text)
	if err == nil {
		english = c
	}
	return err
}
