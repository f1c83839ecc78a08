package signing

import (
	"encoding/hex"
	"slices"
)

// smallOrder are the y coordinates, in hex and without the sign bit, of the
// points of Ed25519 whose order divides eight, and those of them that RFC 8032
// would write as a smaller number. Verification by RFC 8032 lets such a key
// "sign" whatever one likes without any secret, so it would bind nobody.
var smallOrder = []string{
	"0000000000000000000000000000000000000000000000000000000000000000",
	"0100000000000000000000000000000000000000000000000000000000000000",
	"26e8958fc2b227b045c3f489f2ef98f0d5dfac05d3c63339b13802886d53fc05",
	"c7176a703d4dd84fba3c0b760d10670f2a2053fa2c39ccc64ec7fd7792ac037a",
	"ecffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff7f",
	"edffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff7f",
	"eeffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff7f",
}

// hasSecret says whether a public key of Ed25519 is one whose signatures need
// the private half.
func hasSecret(raw []byte) bool {
	y := slices.Clone(raw)
	y[len(y)-1] &= 0x7f
	return !slices.Contains(smallOrder, hex.EncodeToString(y))
}
