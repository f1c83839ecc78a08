package main

import (
	"context"
	"log/slog"
	"time"

	"doorsill/internal/verify"
)

// mostFaultsLogged is how many of the things that differ a pass writes to the log.
const mostFaultsLogged = 20

// verifyOn verifies the records when the server starts and so often afterwards,
// until the context ends; never when every is 0.
func verifyOn(ctx context.Context, watch *verify.Watch, every time.Duration, log *slog.Logger) {
	if every == 0 {
		return
	}
	ticker := time.NewTicker(every)
	defer ticker.Stop()
	for {
		if out, err := watch.Run(ctx); err == nil {
			logOutcome(log, &out)
		}
		select {
		case <-ticker.C:
		case <-ctx.Done():
			return
		}
	}
}

// logOutcome says what a pass found. Nothing in a fault names a client.
func logOutcome(log *slog.Logger, out *verify.Outcome) {
	if out.Clean() {
		log.Info("verified", "entries", out.Report.Entries, "visits", out.Report.Visits, "took", out.Took.String())
		return
	}
	if out.Err != nil {
		log.Error("the records could not be verified", "error", out.Err)
		return
	}
	log.Error("the records do not fit together", "faults", out.Faults())
	for _, fault := range out.Report.Faults[:min(len(out.Report.Faults), mostFaultsLogged)] {
		log.Error("does not follow from the log", "where", fault.Where, "what", fault.What)
	}
}
