package intake_test

import (
	"context"
	"errors"
	"testing"

	"doorsill/internal/account"
	"doorsill/internal/intake"
	"doorsill/internal/model"
	"doorsill/internal/store"
	"doorsill/internal/validation"
)

func TestAssign(t *testing.T) {
	h := newService(t)
	h.visited()
	ctx := context.Background()
	client, err := h.intake.Assign(ctx, caller("lena"), "c1", 0, "marit", "active")
	if err != nil || client.Assignee != "marit" || client.Status != "active" || client.Version != 1 {
		t.Fatalf("%+v, %v", client, err)
	}
	_, err = h.intake.Assign(ctx, caller("davit"), "c1", 0, "davit", "active")
	var changed *intake.Changed
	if !errors.As(err, &changed) || changed.Client.Assignee != "marit" || changed.Client.Version != 1 {
		t.Errorf("from an old version: %v", err)
	}
	client, err = h.intake.Assign(ctx, caller("davit"), "c1", 1, "", "hold")
	if err != nil || client.Version != 2 || client.Assignee != "" {
		t.Errorf("%+v, %v", client, err)
	}
	if line := h.summary("c1"); line.Status != "hold" || line.Version != 2 {
		t.Errorf("summary: %+v", line)
	}
}

func TestAssignIsRefused(t *testing.T) {
	h := newService(t)
	h.visited()
	tests := []struct {
		name, person, client, assignee, status string
		want                                   error
		field                                  string
	}{
		{"nobody", "", "c1", "marit", "active", account.ErrSignedOut, ""},
		{"an assistant", "ansel", "c1", "marit", "active", account.ErrNotAllowed, ""},
		{"another team", "sora", "c1", "sora", "active", account.ErrNotAllowed, ""},
		{"no such client", "lena", "c9", "marit", "active", account.ErrNotAllowed, ""},
		{"a visit", "lena", "v1", "marit", "active", account.ErrNotAllowed, ""},
		{"to somebody outside", "lena", "c1", "sora", "active", nil, "assignee"},
		{"a word that is none", "lena", "c1", "marit", "asleep", nil, "status"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := h.intake.Assign(context.Background(), caller(tt.person), tt.client, 0, tt.assignee, tt.status)
			var invalid *validation.Error
			if tt.field != "" && (!errors.As(err, &invalid) || invalid.Path != tt.field) {
				t.Errorf("got %v, want a refusal of %s", err, tt.field)
			}
			if tt.want != nil && !errors.Is(err, tt.want) {
				t.Errorf("got %v, want %v", err, tt.want)
			}
		})
	}
}

func TestSettle(t *testing.T) {
	h := newService(t)
	marit := h.visited()
	marit.write(model.KindAnswerGiven, "v1", level("pos-nose", "1"))
	marit.send()
	ctx := context.Background()
	if _, err := h.intake.Settle(ctx, caller("lena"), 1, "  "); err == nil {
		t.Error("settled without a word")
	}
	for _, person := range []string{"sora", "davit", "ansel"} {
		if _, err := h.intake.Settle(ctx, caller(person), 1, "done"); !errors.Is(err, account.ErrNotAllowed) {
			t.Errorf("%s: %v", person, err)
		}
	}
	if _, err := h.intake.Settle(ctx, caller("lena"), 7, "done"); !errors.Is(err, account.ErrNotAllowed) {
		t.Errorf("no such entry: %v", err)
	}
	q, err := h.intake.Settle(ctx, caller("lena"), 1, "asked again on the phone")
	if err != nil || q.Settled == nil || q.Settled.By != "lena" {
		t.Errorf("%+v, %v", q, err)
	}
	if got := h.summary("c1").Quarantined; got != 0 {
		t.Errorf("the caseload still counts %d", got)
	}
	if kept := h.quarantine(store.QuarantineFilter{Team: "north"}); len(kept) != 1 {
		t.Error("a settled entry is gone")
	}
}
