package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"doorsill/internal/codegen"
)

const (
	typesFile    = "frontend/lib/model.gen.ts"
	modelDir     = "internal/model"
	checklistDir = "internal/checklist"
	// sampleDir is what the generator's own tests run.
	sampleDir = "internal/codegen/testdata/sample"
)

// writeTypes writes what follows from the Go types.
func writeTypes(root string) error {
	files, err := generated(root)
	if err != nil {
		return err
	}
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(root, name), text, 0o644); err != nil {
			return fmt.Errorf("write %s: %w", name, err)
		}
	}
	return nil
}

// generated returns the generated files by their path below root.
func generated(root string) (map[string][]byte, error) {
	source := codegen.NewSource(root, "doorsill")
	model, err := source.Package("doorsill/internal/model")
	if err != nil {
		return nil, err
	}
	files := map[string][]byte{}
	if err := generate(files, model, modelDir, codegen.Go, codegen.Schemas); err != nil {
		return nil, err
	}
	for _, dir := range []string{checklistDir, sampleDir} {
		p, err := source.Package("doorsill/" + dir)
		if err != nil {
			return nil, err
		}
		if err := generate(files, p, dir, codegen.Go); err != nil {
			return nil, err
		}
	}
	text, err := typeScript(source, model)
	files[typesFile] = []byte(text)
	return files, err
}

// generate adds what generators write for a package in a folder.
func generate(files map[string][]byte, p *codegen.Package, dir string, generators ...func(*codegen.Package) (map[string][]byte, error)) error {
	for _, generator := range generators {
		texts, err := generator(p)
		if err != nil {
			return err
		}
		for name, text := range texts {
			files[dir+"/"+name] = text
		}
	}
	return nil
}

// wireTypes are what crosses the wire or the worker boundary beside the bodies
// of events.
var wireTypes = strings.Fields(`
	checklist.Definition caseload.Page agreement.Report
	server.SignInRequest server.SessionAnswer server.SessionList
	server.TabletRequest server.TabletMade server.TabletList server.HoldingReport
	server.ChecklistList server.ChecklistAnswer
	intake.PushAnswer server.GapAnswer server.OtherLogAnswer
	model.PullAnswer server.ClientAnswer server.VisitAnswer
	server.CaseloadSearch server.AssignmentRequest server.AssignmentRefused server.QuarantineList server.SettleRequest server.ConfirmRequest server.TabletKeyRequest
	server.PeopleList server.PersonRequest server.PasswordRequest server.TeamList server.TeamRequest
	server.ErrorAnswer server.BackupState
`)

// programOps are the ops of the tablet's program, each with the types of question
// and answer.
var programOps = []codegen.Op{
	{Name: "load-catalogue", Question: "CatalogueQuestion"},
	{Name: "load-checklist", Question: "ChecklistQuestion"},
	{Name: "open-visit", Question: "OpenVisitQuestion", Answer: "OpenVisit"},
	{Name: "add-entries", Question: "AddEntriesQuestion", Answer: "OpenVisit"},
	{Name: "close-visit", Question: "VisitQuestion"},
	{Name: "canonical", Question: "VisitQuestion", Answer: "Result"},
	{Name: "fold-client", Question: "EntriesQuestion", Answer: "Client"},
	{Name: "fold-control", Question: "EntriesQuestion", Answer: "Control", OrNull: true},
	{Name: "check-body", Question: "CheckBodyQuestion", Answer: "BadInput", OrNull: true},
	{Name: "check-password", Question: "PasswordQuestion", Answer: "BadInput", OrNull: true},
	{Name: "plausible", Question: "PlausibleQuestion", Answer: "Plausibility"},
	{Name: "rose", Question: "RoseQuestion", Answer: "Rose"},
	{Name: "summarise-series", Question: "SeriesQuestion", Answer: "SeriesAnswer"},
	{Name: "run-quantities", Question: "RunTimed", Answer: "QuantitiesAnswer"},
	{Name: "convert", Question: "ConvertQuestion", Answer: "ConvertAnswer"},
	{Name: "advice", Question: "AdviceQuestion", Answer: "Advice"},
	{Name: "plan", Question: "PlanQuestion", Answer: "PlanDrawing"},
	{Name: "trend", Question: "TrendQuestion", Answer: "Trend"},
	{Name: "thresholds", Question: "NoQuestion", Answer: "ThresholdsAnswer"},
	{Name: "measured-answers", Question: "VisitQuestion", Answer: "MeasuredAnswers"},
	{Name: "ceilings", Question: "CeilingsQuestion", Answer: "CeilingsAnswer"},
}

func typeScript(source *codegen.Source, model *codegen.Package) (string, error) {
	rows, err := model.Kinds()
	if err != nil {
		return "", err
	}
	names := []string{"model.Event", "model.Entry", "model.Client", "model.Visit", "model.Result",
		"model.Plausibility", "model.Series", "model.SeriesSummary", "model.Advice", "model.PlanDrawing", "model.Threshold", "model.TrendQuestion", "model.Trend",
		"model.FailedAnswer"}
	for _, op := range programOps {
		names = append(names, "model."+op.Question)
		if op.Answer != "" {
			names = append(names, "model."+op.Answer)
		}
	}
	kinds := codegen.Group{Name: "kinds", Type: "Kind"}
	for _, row := range rows {
		names = append(names, "model."+row.Body)
		kinds.Values = append(kinds.Values, row.Name)
	}
	types, err := source.Named(append(append(names, "model.Control"), wireTypes...)...)
	if err != nil {
		return "", err
	}
	w := codegen.NewTypeScript()
	w.Types(types)
	w.Group(kinds)
	for _, g := range wordGroups {
		if err := writeGroup(w, source, g); err != nil {
			return "", err
		}
	}
	format, err := model.Constant("ResultFormat")
	if err != nil {
		return "", err
	}
	w.Constant("resultFormat", format)
	limits, err := serverLimits(source)
	if err != nil {
		return "", err
	}
	w.Limits("serverLimits", limits)
	w.KindTable(rows)
	w.Ops(programOps)
	w.Ranges(model, rows)
	return w.Text()
}

// limitConstants are the numbers of the server that the front end goes by, each in
// so many of what the front end counts in.
var limitConstants = []struct {
	constant, name string
	unit           int64
}{
	{"passphrase.Least", "passwordLeast", 1},
	{"intake.MaxEvents", "pushEvents", 1},
	{"intake.MaxBody", "pushBytes", 1},
	{"intake.MostSkew", "clockSkewMs", int64(time.Millisecond)},
	{"seal.MostEvents", "envelopeEvents", 1},
	{"model.MostReplaced", "answersReplaced", 1},
}

func serverLimits(source *codegen.Source) ([]codegen.Limit, error) {
	limits := make([]codegen.Limit, 0, len(limitConstants))
	for _, c := range limitConstants {
		dir, name, _ := strings.Cut(c.constant, ".")
		p, err := source.Package("doorsill/internal/" + dir)
		if err != nil {
			return nil, err
		}
		value, err := p.Number(name)
		if err != nil {
			return nil, err
		}
		limits = append(limits, codegen.Limit{Name: c.name, Value: value / c.unit})
	}
	return limits, nil
}

// group is a list of words that the front end gets: what Go calls it, or its
// constants one by one, and the names that TypeScript gets.
type group struct{ list, name, unionType string }

var wordGroups = []group{
	{"model.AnswerStates", "answerStates", "AnswerState"},
	{"model.AnswerMethods", "answerMethods", "AnswerMethod"},
	{"model.ReadingKinds", "readingKinds", "ReadingKind"},
	{"checklist.Types", "itemTypes", "ItemType"},
	{"checklist.Effects", "effects", "EffectId"},
	{"model.ResultLevels", "levels", "LevelId"},
	{"model.Levels", "decidedLevels", "DecidedLevelId"},
	{"model.Sites", "sites", "SiteId"},
	{"model.Classes", "controlClasses", "ControlClass"},
	{"model.OverrideReasons", "overrideReasons", "OverrideReason"},
	{"model.NoteFields", "noteFields", "NoteField"},
	{"model.PlaceKinds", "placeKinds", "PlaceKind"},
	{"model.MountKinds", "mountKinds", "MountKind"},
	{"model.FixedTo", "fixedTo", "FixedTo"},
	{"model.SettingKeys", "settingKeys", "SettingKey"},
	{"model.Problems", "problems", "Problem"},
	{"model.Retests", "retests", "Retest"},
	{"model.RetestItems", "retestItems", "RetestItem"},
	{"model.ControlItems", "controlItems", "ControlItem"},
	{"model.Outcomes", "outcomes", "Outcome"},
	{"model.DriveModes", "driveModes", "DriveMode"},
	{"model.Drives", "drives", "Drive"},
	{"model.Bases", "bases", "Base"},
	{"model.Moistures", "moistures", "Moisture"},
	{"model.Priorities", "priorities", "Priority"},
	{"model.Courses", "courses", "Course"},
	{"model.Statuses", "statuses", "Status"},
	{"model.Directions", "directions", "Direction"},
	{"model.ForceUnits", "forceUnits", "ForceUnit"},
	{"model.FatigueStates", "fatigueStates", "FatigueState"},
	{"model.RunPlaces", "runPlaces", "RunPlace"},
	{"model.SwitchPurposes", "switchPurposes", "SwitchPurpose"},
	{"model.Roles", "roles", "Role"},
	{"model.Subjects", "subjects", "Subject"},
}

func writeGroup(w *codegen.TypeScript, source *codegen.Source, g group) error {
	at := strings.LastIndexByte(g.list, '.')
	p, err := source.Package("doorsill/internal/" + g.list[:at])
	if err != nil {
		return err
	}
	words, err := p.Words(g.list[at+1:])
	if err != nil {
		return err
	}
	w.Group(codegen.Group{Name: g.name, Type: g.unionType, Values: words})
	return nil
}
