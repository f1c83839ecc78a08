package account

// NameOf lets tests make a name.
func NameOf(n TabletNames, random, person string) string { return n.of(random, person) }
