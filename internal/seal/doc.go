// Package seal closes and opens boxes that only the organisation's key opens.
// A tablet seals what its owner has signed and not sent yet, so that a
// forgotten password does not lose it; the server, or whoever keeps its data
// folder, opens the boxes again.
//
// A box is made by HPKE (RFC 9180) in base mode with DHKEM(P-256, HKDF-SHA256),
// HKDF-SHA256 and AES-256-GCM, which a browser can do without a library. The
// key protects against the loss of a tablet's password, not against the server.
package seal
