package main

import (
	"fmt"
	"os"
	"path/filepath"

	"doorsill/internal/agreement"
	"doorsill/internal/caseload"
	"doorsill/internal/checklist"
	"doorsill/internal/checklist/rules"
	"doorsill/internal/record"
	"doorsill/internal/tsgen"
	"doorsill/server"
)

const typesFile = "frontend/lib/model.gen.ts"

// writeTypes writes the TypeScript that the front end shares with the server.
func writeTypes(root string) error {
	text, err := modelTypes()
	if err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(root, typesFile), []byte(text), 0o644); err != nil {
		return fmt.Errorf("write %s: %w", typesFile, err)
	}
	return nil
}

// modelTypes lists what crosses the wire or the worker boundary.
func modelTypes() (string, error) {
	return tsgen.Write([]any{
		record.Event{}, record.Entry{}, record.Client{}, record.Visit{},
		record.ClientOpened{}, record.ClientChanged{}, record.ClientAssigned{},
		record.VisitStarted{}, record.VisitNoted{}, record.AnswerGiven{}, record.AnswerChosen{},
		record.ReadingTaken{}, record.ReadingMarked{}, record.RunTimed{}, record.RunMarked{}, record.SetupChosen{},
		record.PlanAgreed{}, record.OverrideMade{}, record.VisitSigned{}, record.AmendmentMade{},
		record.Control{}, record.ControlListed{}, record.KitPacked{}, record.NeedsNoted{}, record.NeedsUnset{}, record.ChairMeasured{},
		record.PlaceMeasured{}, record.SettingChanged{}, record.SettingTried{}, record.MountNoted{},
		checklist.Definition{}, caseload.Page{}, agreement.Report{},
		server.SignInRequest{}, server.SessionAnswer{}, server.SessionList{},
		server.TabletRequest{}, server.TabletMade{}, server.TabletList{}, server.HoldingReport{},
		server.ChecklistList{}, server.ChecklistAnswer{},
		server.PullAnswer{}, server.ClientAnswer{}, server.VisitAnswer{},
		server.AssignmentRequest{}, server.AssignmentRefused{}, server.QuarantineList{}, server.SettleRequest{},
		server.PeopleList{}, server.PersonRequest{}, server.PasswordRequest{}, server.TeamList{}, server.TeamRequest{},
		server.ErrorAnswer{}, server.BackupState{},
	}, modelWords())
}

func modelWords() []tsgen.Group {
	return []tsgen.Group{
		{Name: "kinds", Type: "Kind", Values: []string{
			record.KindClientOpened, record.KindClientChanged, record.KindClientAssigned,
			record.KindVisitStarted, record.KindVisitNoted, record.KindAnswerGiven, record.KindAnswerChosen,
			record.KindReadingTaken, record.KindReadingMarked, record.KindRunTimed, record.KindRunMarked, record.KindSetupChosen,
			record.KindPlanAgreed, record.KindOverrideMade, record.KindVisitSigned, record.KindAmendmentMade,
			record.KindControlListed, record.KindKitPacked, record.KindNeedsNoted, record.KindNeedsUnset, record.KindChairMeasured,
			record.KindPlaceMeasured, record.KindSettingChanged, record.KindSettingTried, record.KindMountNoted,
		}},
		{Name: "answerStates", Type: "AnswerState", Values: []string{record.StateAnswered, record.StateNotApplicable, record.StateNotTested}},
		{Name: "readingKinds", Type: "ReadingKind", Values: []string{
			record.ReadForce, record.ReadTravel, record.ReadHold, record.ReadRelease, record.ReadUnintended, record.ReadSwitchForce,
		}},
		{Name: "itemTypes", Type: "ItemType", Values: []string{rules.Help, rules.Fit, rules.YesNo, rules.Number, rules.Count}},
		{Name: "effects", Type: "EffectId", Values: []string{
			rules.Stop, rules.StopControl, rules.StopVehicle, rules.LimitPractise, rules.LimitAccompanied, rules.LimitHomeGround,
		}},
		{Name: "levels", Type: "LevelId", Values: record.Levels()},
		{Name: "sites", Type: "SiteId", Values: record.Sites()},
		{Name: "controlClasses", Type: "ControlClass", Values: record.Classes()},
		{Name: "overrideReasons", Type: "OverrideReason", Values: record.OverrideReasons()},
		{Name: "noteFields", Type: "NoteField", Values: record.NoteFields()},
		{Name: "placeKinds", Type: "PlaceKind", Values: record.PlaceKinds()},
		{Name: "mountKinds", Type: "MountKind", Values: record.MountKinds()},
		{Name: "fixedTo", Type: "FixedTo", Values: record.FixedTo()},
		{Name: "settingKeys", Type: "SettingKey", Values: record.SettingKeys()},
		{Name: "problems", Type: "Problem", Values: record.Problems()},
		{Name: "retests", Type: "Retest", Values: record.Retests()},
		{Name: "retestItems", Type: "RetestItem", Values: record.RetestItems()},
		{Name: "outcomes", Type: "Outcome", Values: record.Outcomes()},
		{Name: "drives", Type: "Drive", Values: record.Drives()},
		{Name: "bases", Type: "Base", Values: record.Bases()},
		{Name: "moistures", Type: "Moisture", Values: record.Moistures()},
	}
}
