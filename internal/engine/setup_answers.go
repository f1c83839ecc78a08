package engine

import (
	"slices"
	"strings"

	"doorsill/internal/engine/passage"
	"doorsill/internal/engine/readiness"
	"doorsill/internal/engine/strength"
	"doorsill/internal/message"
)

// besideSetup lays answers that something does not apply beside the chosen control
// and the places that are needed. Where these say that it does apply, the item
// counts as not tested, and that is returned to be shown. Where people do not agree
// it does so already.
func (v *visit) besideSetup(list *readiness.Checklist) []message.Message {
	var conflicts []message.Message
	for i := range v.heads {
		h := &v.heads[i]
		id := list.At(h.Item).ID
		why := v.applies(id)
		if why.Empty() || !v.nobodyAnswered(h.Item) {
			continue
		}
		conflicts = append(conflicts, message.New("readiness.applies", message.Word("item", id), message.Inner("why", why)))
		for j := range v.heads {
			if v.heads[j].Item == h.Item {
				v.heads[j] = readiness.Head{Item: h.Item}
			}
		}
	}
	return conflicts
}

// nobodyAnswered reports whether everybody who spoke of an item says that it does
// not apply.
func (v *visit) nobodyAnswered(item int) bool {
	return !slices.ContainsFunc(v.heads, func(h readiness.Head) bool {
		return h.Item == item && h.State != readiness.NotApplicable
	})
}

// applies says why an item of the standard checklist does apply, or nothing.
func (v *visit) applies(id string) message.Message {
	switch id {
	case "ind-round":
		return v.appliesToPlace(passage.KindTurn, passage.KindHalf, passage.KindThreePoint)
	case "out-up", "out-down":
		return v.appliesToPlace(passage.KindRamp)
	}
	if v.setup == nil {
		return message.Message{}
	}
	part := strength.PartOf(v.setup.Site)
	site := message.New("readiness.applies-site", message.Word("site", v.setup.Site))
	switch {
	case id == itemGrade && !strength.Forceless(v.setup.Class):
		return message.New("readiness.applies-graded")
	case id == "pos-limb" && part != strength.Head,
		id == "mnt-urgent" && part == strength.Head && !strings.HasPrefix(v.setup.Site, "head-"):
		return site
	}
	return message.Message{}
}

// appliesToPlace names the first needed place of one of the kinds.
func (v *visit) appliesToPlace(kinds ...string) message.Message {
	for i := range v.places {
		if p := &v.places[i].PlaceMeasured; !p.NotNeeded && slices.Contains(kinds, p.Kind) {
			return message.New("readiness.applies-place", message.Inner("place", placeMessage(p)))
		}
	}
	return message.Message{}
}
