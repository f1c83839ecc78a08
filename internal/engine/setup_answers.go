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
	if shown, may := mayApply[id]; may {
		return shown(v)
	}
	return message.Message{}
}

// mayApply holds the items of which the chosen control or a needed place may say
// that they apply, whatever was answered; read only.
var mayApply = map[string]func(*visit) message.Message{
	"ind-round": func(v *visit) message.Message {
		return v.appliesToPlace(passage.KindTurn, passage.KindHalf, passage.KindThreePoint)
	},
	"out-up":   func(v *visit) message.Message { return v.appliesToPlace(passage.KindRamp) },
	"out-down": func(v *visit) message.Message { return v.appliesToPlace(passage.KindRamp) },
	itemGrade: func(v *visit) message.Message {
		if v.setup == nil || strength.Forceless(v.setup.Class) {
			return message.Message{}
		}
		return message.New("readiness.applies-graded")
	},
	"pos-limb": func(v *visit) message.Message {
		return v.appliesToSite(func(_ string, part strength.Part) bool { return part != strength.Head })
	},
	"mnt-urgent": func(v *visit) message.Message {
		return v.appliesToSite(func(site string, part strength.Part) bool {
			return part == strength.Head && !strings.HasPrefix(site, "head-")
		})
	},
}

// appliesToSite names the chosen site where it is one of those meant.
func (v *visit) appliesToSite(meant func(site string, part strength.Part) bool) message.Message {
	if v.setup == nil || !meant(v.setup.Site, strength.PartOf(v.setup.Site)) {
		return message.Message{}
	}
	return message.New("readiness.applies-site", message.Word("site", v.setup.Site))
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
