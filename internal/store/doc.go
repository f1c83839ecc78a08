// Package store says what the server keeps and how it is asked for, in the
// words of the job: events, tablets, results, summaries, what was quarantined,
// people and the audit trail. It holds no rules. Package bolt implements it on
// one embedded file; package storetest checks any implementation against what
// is promised here.
package store
