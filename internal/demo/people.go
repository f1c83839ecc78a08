// Package demo invents a service: two teams, five people, forty clients and
// their visits. Nobody in it exists. Everything goes in by the same door as
// real work: accounts through the account package, events through intake.
package demo

// Notice is shown on the sign-in screen and in the terminal.
const Notice = "Everything here is invented: the service, its people, its clients and their measurements."

// Password opens every invented account. It is printed, so package passphrase
// refuses it everywhere else.
const Password = "over the door sill"

// Team is an invented team.
type Team struct{ Key, Name string }

// Person is an invented member of staff.
type Person struct {
	Login, Name, Credential string
	// Role is clinician, assistant, lead or admin; Team is a Team key, empty
	// for the admin.
	Role, Team string
}

// Teams lists the two invented teams.
func Teams() []Team {
	return []Team{{"harbour", "Harbour team"}, {"upland", "Upland team"}}
}

// People lists the five invented people.
func People() []Person {
	return []Person{
		{"marit", "Marit Ashgrove", "occupational therapist", "clinician", "harbour"},
		{"tobin", "Tobin Carrow", "therapy assistant", "assistant", "harbour"},
		{"ilse", "Ilse Venning", "team lead, occupational therapist", "lead", "harbour"},
		{"davit", "Davit Orlow", "team lead, physiotherapist", "lead", "upland"},
		{"perrin", "Perrin Hale", "administrator", "admin", ""},
	}
}
