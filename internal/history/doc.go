// Package history checks what clients of the server saw: from the requests that
// they made and the answers that they believed it tells whether there can have
// been one log behind them that kept its promises. It never looks at what the
// server holds, and knows the protocol from PROTOCOL.md alone, so that a mistake
// in the server or its store can not hide from it.
//
// What it holds the answers to:
//
//   - a position of a log holds one event with the same bytes, whoever pulls it,
//     and an event has one position;
//   - a pull gives every event of the team up to its cursor, once, in the order
//     of positions;
//   - what was acknowledged before a pull began is in that pull, or after it;
//   - an acknowledgement, a head and a cursor never go back within a log;
//   - a log ends only in a 409 that names the next one, and never comes back;
//   - what was acknowledged in a log that ended is there again, or was set aside,
//     once its tablet has come to rest in the next one, unless it came in a file
//     and not from the tablet.
package history
