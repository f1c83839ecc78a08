package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"slices"
	"strings"
	"text/tabwriter"
	"time"

	"doorsill/internal/account"
	"doorsill/internal/store"
	"doorsill/internal/validation"
	"doorsill/server"
)

const accountUsage = `Usage: doorsill account VERB [options]

  add       make an account; the password is asked for, or read from standard input
  password  set somebody's password
  list      list people with their teams and roles
  identity  say who somebody is at the organisation's sign-in provider
  revoke    end all of somebody's sessions
  team add  make a team
  team list list the teams

The server must not be running on the same records.
`

// roleAdmin is how the command line names an admin, who has no team.
const roleAdmin = "admin"

// accountVerb is one thing to do with accounts.
type accountVerb func(ctx context.Context, args []string, con console) error

// runAccount manages people on the machine that holds the records: whoever can
// read them may do so.
func runAccount(ctx context.Context, args []string, con console) error {
	verbs := map[string]accountVerb{
		"add": accountAdd, "password": accountPassword, "list": accountList,
		"identity": accountIdentity, "revoke": accountRevoke, "team add": teamAdd, "team list": teamList,
	}
	name := strings.Join(args[:min(1, len(args))], "")
	if name == "team" && len(args) > 1 {
		name, args = "team "+args[1], args[1:]
	}
	if verb, ok := verbs[name]; ok {
		return verb(ctx, args[1:], con)
	}
	if slices.Contains([]string{"-h", "--help", "help"}, name) {
		_, err := fmt.Fprint(con.out, accountUsage)
		return err
	}
	return &usageError{fmt.Sprintf("account: there is no verb %q", name), "verbs: add, password, identity, list, revoke, team add, team list"}
}

// withAccounts opens the records for as long as fn runs.
func withAccounts(dir string, fn func(*account.Service) error) error {
	accounts, closeAll, err := server.OpenAccounts(dir, time.Now)
	if errors.Is(err, store.ErrInUse) {
		return fmt.Errorf("%w: stop the server first, or manage people in the app", err)
	}
	if err != nil {
		return err
	}
	return errors.Join(fn(accounts), closeAll())
}

// accountFlags returns the options that every verb has.
func accountFlags(verb string) (flags *flag.FlagSet, data *string) {
	flags = flag.NewFlagSet("account "+verb, flag.ContinueOnError)
	return flags, flags.String("data", "data", "the records are in `DIR`")
}

func accountAdd(ctx context.Context, args []string, con console) error {
	flags, data := accountFlags("add")
	login := flags.String("login", "", "what the person signs in with")
	name := flags.String("name", "", "the person's name")
	credential := flags.String("credential", "", "professional title, as it stands on paper")
	role := flags.String("role", "", "clinician, assistant, lead or admin")
	var teams []string
	flags.Func("team", "a team's `NAME` or id; may be repeated; none for an admin", func(s string) error {
		teams = append(teams, s)
		return nil
	})
	if err := parseOptions(flags, con, args); err != nil {
		return err
	}
	return withAccounts(*data, func(s *account.Service) error {
		n := account.NewPerson{Login: *login, Name: *name, Credential: *credential, Admin: *role == roleAdmin}
		var err error
		if n.Roles, err = rolesFor(ctx, s, teams, *role); err != nil {
			return err
		}
		if n.Password, err = askNewPassword(con); err != nil {
			return err
		}
		p, err := s.AddPerson(ctx, account.Console(), n)
		if err != nil {
			return asUsage(err)
		}
		_, err = fmt.Fprintf(con.out, "%s can sign in as %q.\n", p.Name, p.Login)
		return err
	})
}

// rolesFor gives the role in each named team.
func rolesFor(ctx context.Context, s *account.Service, names []string, role string) (map[string]string, error) {
	if role == "" {
		return nil, &usageError{"--role is missing", "clinician, assistant, lead or admin"}
	}
	if role != roleAdmin && len(names) == 0 {
		return nil, &usageError{"--team is missing", "only an admin has no team; \"doorsill account team list\" lists them"}
	}
	teams, err := s.Teams(ctx, account.Console())
	if err != nil {
		return nil, err
	}
	roles := make(map[string]string)
	for _, name := range names {
		at := slices.IndexFunc(teams, func(t store.Team) bool { return t.ID == name || strings.EqualFold(t.Name, name) })
		if at < 0 {
			return nil, &usageError{fmt.Sprintf("there is no team %q", name), "\"doorsill account team list\" lists them"}
		}
		roles[teams[at].ID] = role
	}
	return roles, nil
}

// asUsage words a wrong field as a mistake in the call.
func asUsage(err error) error {
	var bad *validation.Error
	if errors.As(err, &bad) {
		return &usageError{bad.Path + " is not right", "expected " + bad.Want}
	}
	return err
}

// byLogin runs fn with the person whose login is given.
func byLogin(ctx context.Context, data, login string, fn func(*account.Service, account.PersonView) error) error {
	if login == "" {
		return &usageError{"--login is missing", "say whose account it is"}
	}
	return withAccounts(data, func(s *account.Service) error {
		p, err := s.PersonByLogin(ctx, account.Console(), login)
		if errors.Is(err, account.ErrNotFound) {
			return &usageError{fmt.Sprintf("nobody has the login %q", login), "\"doorsill account list\" lists everybody"}
		}
		if err != nil {
			return err
		}
		return fn(s, p)
	})
}

func accountPassword(ctx context.Context, args []string, con console) error {
	flags, data := accountFlags("password")
	login := flags.String("login", "", "whose password")
	if err := parseOptions(flags, con, args); err != nil {
		return err
	}
	return byLogin(ctx, *data, *login, func(s *account.Service, p account.PersonView) error {
		password, err := askNewPassword(con)
		if err != nil {
			return err
		}
		if err := s.SetPassword(ctx, account.Console(), p.ID, "", password); err != nil {
			return asUsage(err)
		}
		_, err = fmt.Fprintf(con.out, "%s has a new password and is signed out everywhere.\n", p.Name)
		return err
	})
}

func accountIdentity(ctx context.Context, args []string, con console) error {
	flags, data := accountFlags("identity")
	login := flags.String("login", "", "who it is about")
	email := flags.String("email", "", "the `ADDRESS` that the provider vouches for")
	subject := flags.String("subject", "", "the `ID` that the provider gives the person; learnt at the first sign-in when only the address is given")
	if err := parseOptions(flags, con, args); err != nil {
		return err
	}
	return byLogin(ctx, *data, *login, func(s *account.Service, p account.PersonView) error {
		if err := s.SetIdentity(ctx, account.Console(), p.ID, *email, *subject); err != nil {
			return asUsage(err)
		}
		words := "can sign in at the provider."
		if *email == "" && *subject == "" {
			words = "can no longer sign in at the provider."
		}
		_, err := fmt.Fprintf(con.out, "%s %s\n", p.Name, words)
		return err
	})
}

func accountRevoke(ctx context.Context, args []string, con console) error {
	flags, data := accountFlags("revoke")
	login := flags.String("login", "", "whose sessions")
	if err := parseOptions(flags, con, args); err != nil {
		return err
	}
	return byLogin(ctx, *data, *login, func(s *account.Service, p account.PersonView) error {
		if err := s.SignOutEverywhere(ctx, account.Console(), p.ID); err != nil {
			return err
		}
		_, err := fmt.Fprintf(con.out, "%s is signed out everywhere.\n", p.Name)
		return err
	})
}

func accountList(ctx context.Context, args []string, con console) error {
	flags, data := accountFlags("list")
	if err := parseOptions(flags, con, args); err != nil {
		return err
	}
	return withAccounts(*data, func(s *account.Service) error {
		people, err := s.People(ctx, account.Console())
		if err != nil {
			return err
		}
		teams, err := s.Teams(ctx, account.Console())
		if err != nil {
			return err
		}
		table := tabwriter.NewWriter(con.out, 0, 0, 2, ' ', 0)
		fmt.Fprintln(table, "LOGIN\tNAME\tROLES")
		for _, p := range people {
			fmt.Fprintf(table, "%s\t%s\t%s\n", p.Login, p.Name, rolesInWords(p, teams))
		}
		return table.Flush()
	})
}

func rolesInWords(p account.PersonView, teams []store.Team) string {
	var words []string
	if p.Closed {
		words = append(words, "closed")
	}
	if p.Admin {
		words = append(words, roleAdmin)
	}
	for _, t := range teams {
		if role := p.Roles[t.ID]; role != "" {
			words = append(words, role+" in "+t.Name)
		}
	}
	return strings.Join(words, ", ")
}

func teamAdd(ctx context.Context, args []string, con console) error {
	flags, data := accountFlags("team add")
	name := flags.String("name", "", "the team's name")
	if err := parseOptions(flags, con, args); err != nil {
		return err
	}
	return withAccounts(*data, func(s *account.Service) error {
		t, err := s.AddTeam(ctx, account.Console(), *name)
		if err != nil {
			return asUsage(err)
		}
		_, err = fmt.Fprintf(con.out, "Team %q is there, with the id %s.\n", t.Name, t.ID)
		return err
	})
}

func teamList(ctx context.Context, args []string, con console) error {
	flags, data := accountFlags("team list")
	if err := parseOptions(flags, con, args); err != nil {
		return err
	}
	return withAccounts(*data, func(s *account.Service) error {
		teams, err := s.Teams(ctx, account.Console())
		for _, t := range teams {
			fmt.Fprintf(con.out, "%s  %s\n", t.ID, t.Name)
		}
		return err
	})
}
