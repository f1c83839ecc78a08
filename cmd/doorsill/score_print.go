package main

import (
	"encoding/json"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// resultLine is one line of a result text: its kind and its fields.
type resultLine struct {
	kind   string
	fields []string
}

func (l resultLine) at(i int) string {
	if i < len(l.fields) {
		return l.fields[i]
	}
	return ""
}

// resultLines is a result text, read.
type resultLines []resultLine

func readResult(text []byte) resultLines {
	var all resultLines
	for row := range strings.Lines(string(text)) {
		fields := strings.Split(strings.TrimSuffix(row, "\n"), "\t")
		all = append(all, resultLine{fields[0], fields[1:]})
	}
	return all
}

func (r resultLines) of(kind string) resultLines {
	var list resultLines
	for _, l := range r {
		if l.kind == kind {
			list = append(list, l)
		}
	}
	return list
}

// at returns the lines about one control.
func (r resultLines) at(control string) resultLines {
	var list resultLines
	for _, l := range r {
		if l.at(0) == control {
			list = append(list, l)
		}
	}
	return list
}

// limits returns the figures of endurance that say something.
func (r resultLines) limits() []resultLine {
	var list []resultLine
	for _, l := range r.of("figure") {
		for _, name := range []string{"hold-time-low", "limit-", "strain-", "exposure-"} {
			if strings.HasPrefix(l.at(0), name) && l.at(6) != "" {
				list = append(list, l)
			}
		}
	}
	return list
}

// kindOfLine is how one kind of line becomes a list of JSON objects.
type kindOfLine struct {
	kind, list string
	fields     []string
}

// kindsOfLine names the fields of each kind for JSON: "?" marks a yes or no,
// "#" a number that can be missing.
func kindsOfLine() []kindOfLine {
	return []kindOfLine{
		{"gate", "gates", []string{"level", "met?", "code", "sentence"}},
		{"effect", "effects", []string{"effect", "item", "sentence"}},
		{"domain", "domains", []string{"code", "score#", "low#", "high#", "coverage#", "answered#", "applicable#", "sentence"}},
		{"cost", "costs", []string{"domain", "item", "points#", "sentence"}},
		{"item", "items", []string{"id", "state", "shown", "grade", "value#", "computed?", "needs_choice?"}},
		{"figure", "figures", []string{"name", "site", "direction", "value#", "unit", "basis", "sentence"}},
		{"reason", "reasons", []string{"rule", "verdict", "sentence", "change"}},
		{"class", "classes", []string{"id", "verdict", "reserve#", "sentence"}},
		{"verdict", "verdicts", []string{"control", "site", "indoors", "outdoors", "rank#", "role", "sentence"}},
		{"why", "whys", []string{"control", "site", "rule", "where", "verdict", "sentence", "change"}},
		{"window", "windows", []string{"state", "verdict", "sentence"}},
		{"load", "loads", []string{"control", "site", "direction", "share#", "sentence"}},
		{"exposure", "exposures", []string{"site", "sentence"}},
		{"recheck-by", "recheck", []string{"weeks#", "sentence"}},
		{"passage", "passages", []string{"place", "verdict", "left_mm#", "sentence", "assumption", "reference"}},
		{"due", "due", []string{"item", "sentence"}},
		{"basis", "bases", []string{"figure", "formula", "source", "status"}},
		{"up", "up", []string{"level", "item", "sentence"}},
		{"missing", "missing", []string{"group", "what", "sentence"}},
		{"note", "notes", []string{"sentence"}},
	}
}

// writeJSON prints the whole result as one JSON object.
func (r resultLines) writeJSON(out io.Writer) error {
	object := map[string]any{}
	for _, kind := range kindsOfLine() {
		list := []map[string]any{}
		for _, l := range r.of(kind.kind) {
			list = append(list, l.object(kind.fields))
		}
		object[kind.list] = list
	}
	for _, l := range r {
		switch l.kind {
		case "doorsill-result":
			object["engine"], object["rules"] = l.at(1), l.at(2)
		case "level":
			object["level"], object["interim"], object["sentence"] = l.at(0), l.at(1) == "1", l.at(2)
		case "control":
			object["control"] = l.object([]string{"indoors", "outdoors", "sentence"})
		case "override":
			object["override"] = l.object([]string{"ruling", "level", "sentence"})
		}
	}
	enc := json.NewEncoder(out)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(object)
}

func (l resultLine) object(names []string) map[string]any {
	object := map[string]any{}
	for i, name := range names {
		text := l.at(i)
		switch name[len(name)-1] {
		case '?':
			object[name[:len(name)-1]] = text == "1"
		case '#':
			object[name[:len(name)-1]] = nil
			if number, err := strconv.ParseFloat(text, 64); err == nil {
				object[name[:len(name)-1]] = number
			}
		default:
			object[name] = text
			if text == "-" {
				object[name] = nil
			}
		}
	}
	return object
}

// writeWords prints the result for a person, the gravest first.
func (r resultLines) writeWords(out io.Writer) error {
	p := &wordPrinter{out: out}
	for _, l := range r.of("level") {
		p.line(l.at(2))
	}
	for _, l := range r.of("override") {
		p.line("Decision: " + l.at(2))
	}
	p.list("Effects", r.of("effect"), func(l resultLine) string { return l.at(2) })
	p.list("Scores", r.of("domain"), func(l resultLine) string { return l.at(7) })
	p.list("Control", r.of("control"), func(l resultLine) string { return l.at(2) })
	p.list("Rules", r.of("reason"), func(l resultLine) string {
		return strings.TrimSpace(ruleWords(l.at(0)) + ", " + verdictWords(l.at(1)) + ": " + l.at(2) + " " + l.at(3))
	})
	p.list("Usual controls at this site", r.of("class"), func(l resultLine) string { return l.at(3) })
	p.list("Every control at every measured site", r.of("verdict"), func(l resultLine) string { return l.at(0) + ": " + l.at(6) })
	p.list("When no stick fits", r.of("why").at("-"), func(l resultLine) string { return l.at(5) + " " + l.at(6) })
	p.list("Rested and tired", r.of("window"), func(l resultLine) string { return l.at(2) })
	p.list("What driving asks of the body", r.of("load"), func(l resultLine) string { return l.at(0) + " at " + l.at(1) + ": " + l.at(4) })
	p.list("Limits of a usual day", r.limits(), func(l resultLine) string { return l.at(6) })
	p.list("Exposure", r.of("exposure"), func(l resultLine) string { return l.at(1) })
	p.list("Look again", r.of("recheck-by"), func(l resultLine) string { return "in " + l.at(0) + " weeks: " + l.at(1) })
	p.list("Passages", r.of("passage"), func(l resultLine) string { return l.at(0) + ", " + l.at(1) + ": " + l.at(3) })
	p.list("Due again", r.of("due"), func(l resultLine) string { return l.at(1) })
	p.list("Shortest way up", r.of("up"), func(l resultLine) string { return l.at(2) })
	p.list("Missing", r.of("missing"), func(l resultLine) string { return l.at(0) + ": " + l.at(2) })
	p.list("Cautions", r.of("note"), func(l resultLine) string { return l.at(0) })
	return p.err
}

func ruleWords(rule string) string {
	switch rule {
	case "noise":
		return "unintended force"
	case "rough-head", "rough-finger":
		return "rough ground"
	case "wet":
		return "moisture"
	case "helper":
		return "a helper who drives"
	case "base":
		return "base and mount"
	}
	return rule
}

func verdictWords(verdict string) string {
	switch verdict {
	case "not-feasible":
		return "not feasible"
	case "unknown":
		return "not known yet"
	}
	return verdict
}

// wordPrinter prints until the first error.
type wordPrinter struct {
	out io.Writer
	err error
}

func (p *wordPrinter) line(text string) {
	if p.err == nil {
		_, p.err = fmt.Fprintln(p.out, text)
	}
}

func (p *wordPrinter) list(title string, lines []resultLine, words func(resultLine) string) {
	if len(lines) == 0 {
		return
	}
	p.line("\n" + title)
	for _, l := range lines {
		p.line("  " + words(l))
	}
}
