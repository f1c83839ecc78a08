package account

import (
	"doorsill/internal/passphrase"
	"doorsill/internal/store"
)

// checkNewPassword refuses what is easy to guess for whoever knows the person, the
// names of their teams and of the service. The error is a *validation.Error.
func (s *Service) checkNewPassword(r store.Reader, password string, p store.Person, roles map[string]string) error {
	context := append([]string{p.Login, p.Name, p.Credential, p.Email}, s.names...)
	for team := range roles {
		t, err := r.Team(team)
		if err != nil {
			continue // whoever sets the roles says so
		}
		context = append(context, t.Name)
	}
	if bad := passphrase.Check(password, context...); bad != nil {
		return bad
	}
	return nil
}
