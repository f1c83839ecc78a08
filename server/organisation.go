package server

import (
	"context"
	"log/slog"

	"doorsill/internal/account"
	"doorsill/internal/seal"
	"doorsill/internal/store"
)

// tellLostKey says it when tablets have names that the organisation's key did not
// mark, nor one before it: the key is then another than the one that they seal to,
// as when its file was lost and the server made a new one. Nothing else would tell.
// It is no reason not to serve.
func tellLostKey(records store.Store, names account.TabletNames, log *slog.Logger) {
	foreign := 0
	err := records.View(context.Background(), func(r store.Reader) error {
		tablets, err := r.Tablets()
		for _, t := range tablets {
			if marked, theirs := names.Whose(t.ID, t.Person); marked && !theirs {
				foreign++
			}
		}
		return err
	})
	if err != nil {
		log.Error("the list of tablets is damaged; verify says where", "why", err.Error())
	}
	if foreign > 0 {
		log.Warn("tablets were registered under another key than is in "+seal.KeyFile+": put the one of before back from a backup, for nothing else opens what was sealed to it", "tablets", foreign)
	}
}
