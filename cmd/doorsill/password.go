package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"golang.org/x/term"
)

// askNewPassword asks twice on a terminal, without showing what is typed, and
// reads one line from anything else. It never takes a password from the
// arguments, which other users of the machine can see.
func askNewPassword(con console) (string, error) {
	file, ok := con.in.(*os.File)
	if !ok || !term.IsTerminal(int(file.Fd())) {
		return readLine(con.in)
	}
	first, err := askHidden(con, file, "New password (15 characters or more): ")
	if err != nil {
		return "", err
	}
	second, err := askHidden(con, file, "Once more: ")
	if err != nil {
		return "", err
	}
	if first != second {
		return "", &usageError{"the two passwords differ", "please try again"}
	}
	return first, nil
}

func askHidden(con console, file *os.File, prompt string) (string, error) {
	fmt.Fprint(con.errOut, prompt)
	typed, err := term.ReadPassword(int(file.Fd()))
	fmt.Fprintln(con.errOut)
	if err != nil {
		return "", fmt.Errorf("read password: %w", err)
	}
	return string(typed), nil
}

func readLine(in io.Reader) (string, error) {
	line, err := bufio.NewReader(io.LimitReader(in, 4096)).ReadString('\n')
	if err != nil && !errors.Is(err, io.EOF) {
		return "", fmt.Errorf("read password: %w", err)
	}
	return strings.TrimRight(line, "\r\n"), nil
}
