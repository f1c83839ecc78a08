package main

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"unicode/utf8"

	"filippo.io/age"
	"golang.org/x/term"

	"doorsill/internal/backup"
)

// makingKeys say who can open a backup that is made.
type makingKeys struct {
	recipients     []string
	recipientsFile string
	passphraseFile string
}

func (k *makingKeys) flags(flags *flag.FlagSet) {
	flags.Func("for", "whoever has the secret of the public `KEY`, age1…, can open it; may be repeated", func(s string) error {
		k.recipients = append(k.recipients, s)
		return nil
	})
	flags.StringVar(&k.recipientsFile, "for-file", "", "the same for each public key in `FILE`, one a line")
}

func (k *makingKeys) public() ([]age.Recipient, error) {
	text := strings.Join(k.recipients, "\n")
	if k.recipientsFile != "" {
		data, err := os.ReadFile(k.recipientsFile)
		if err != nil {
			return nil, fmt.Errorf("read keys: %w", err)
		}
		text += "\n" + string(data)
	}
	if strings.TrimSpace(text) == "" {
		return nil, nil
	}
	list, err := backup.Recipients(text)
	if err != nil {
		return nil, &usageError{err.Error(), "\"doorsill backup --new-key FILE\" makes a key and prints its public half"}
	}
	return list, nil
}

// openingKeys open a backup.
type openingKeys struct{ identityFile, passphraseFile string }

func (k *openingKeys) flags(flags *flag.FlagSet) {
	flags.StringVar(&k.identityFile, "key-file", "", "open a backup with the secret key in `FILE`")
	flags.StringVar(&k.passphraseFile, "passphrase-file", "", "open a backup with the passphrase in `FILE`; without either it is asked for")
}

func (k *openingKeys) identities(con console) ([]age.Identity, error) {
	if k.identityFile != "" {
		data, err := os.ReadFile(k.identityFile)
		if err != nil {
			return nil, fmt.Errorf("read key: %w", err)
		}
		return backup.Identities(string(data))
	}
	text, err := passphrase(con, k.passphraseFile, false)
	if err != nil {
		return nil, err
	}
	_, identity, err := backup.Passphrase(text, 0)
	if err != nil {
		return nil, err
	}
	return []age.Identity{identity}, nil
}

// passphrase reads one from a file, or asks for it on a terminal, twice for a
// new one. It never comes from the arguments, which others can see.
func passphrase(con console, file string, isNew bool) (text string, err error) {
	if file != "" {
		data, err := os.ReadFile(file)
		if err != nil {
			return "", fmt.Errorf("read passphrase: %w", err)
		}
		text = strings.TrimRight(string(data), "\r\n")
	} else if text, err = askPassphrase(con, isNew); err != nil {
		return "", err
	}
	if isNew && utf8.RuneCountInString(text) < backup.LeastPassphrase {
		return "", &usageError{"the passphrase is too short", fmt.Sprintf("expected %d characters or more; several words that nobody would guess", backup.LeastPassphrase)}
	}
	if text == "" {
		return "", &usageError{"there is no passphrase", "give --key-file or --passphrase-file, or type it"}
	}
	return text, nil
}

func askPassphrase(con console, isNew bool) (string, error) {
	terminal, ok := con.in.(*os.File)
	if !ok || !term.IsTerminal(int(terminal.Fd())) {
		return "", &usageError{"nothing says who may open the backup", "give --for, --key-file or --passphrase-file, or run this on a terminal"}
	}
	first, err := askHidden(con, terminal, "Passphrase of the backup: ")
	if err != nil || !isNew {
		return first, err
	}
	second, err := askHidden(con, terminal, "Once more: ")
	if err == nil && first != second {
		err = &usageError{"the two passphrases differ", "please try again"}
	}
	return first, err
}
