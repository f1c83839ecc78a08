package account

import (
	"context"
	"crypto/rand"
	"errors"
	"testing"
)

func TestHashesOfOtherProgramsAreRead(t *testing.T) {
	h, err := NewHasher(Cost{MemoryKiB: 64, Passes: 1, Lanes: 1}, rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	// The reference implementation's command line (phc-winner-argon2, test.c,
	// version 0x13): m=65536, t=2, p=1, "password" with salt "somesalt".
	const reference = "$argon2id$v=19$m=65536,t=2,p=1$c29tZXNhbHQ$CTFhFdXPJO1aFaMaO6Mm5c8y7cJHAph8ArZWb2GRPPc"
	ok, stale, err := h.Verify(context.Background(), reference, "password")
	if err != nil || !ok || !stale {
		t.Errorf("reference hash: ok %v, stale %v, %v", ok, stale, err)
	}
	if ok, _, _ := h.Verify(context.Background(), reference, "Password"); ok {
		t.Error("another password was taken for it")
	}
}

func TestTwoKeyboardsOnePassword(t *testing.T) {
	h, err := NewHasher(Cost{MemoryKiB: 64, Passes: 1, Lanes: 1}, rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	hash, err := h.Hash(context.Background(), "caf\u00e9 by the old harbour")
	if err != nil {
		t.Fatal(err)
	}
	if ok, stale, err := h.Verify(context.Background(), hash, "cafe\u0301 by the old harbour"); !ok || stale || err != nil {
		t.Errorf("the same letters, composed otherwise: %v %v %v", ok, stale, err)
	}
}

func TestDamagedHashesAreRefused(t *testing.T) {
	h, err := NewHasher(Cost{MemoryKiB: 64, Passes: 1, Lanes: 1}, rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	for _, stored := range []string{
		"", "plain", "$argon2i$v=19$m=64,t=1,p=1$c29tZXNhbHQ$CTFhFdXPJO1aFaMaO6Mm5c8y7cJHAph8ArZWb2GRPPc",
		"$argon2id$v=16$m=64,t=1,p=1$c29tZXNhbHQ$CTFhFdXPJO1aFaMaO6Mm5c8y7cJHAph8ArZWb2GRPPc",
		"$argon2id$v=19$m=99999999,t=1,p=1$c29tZXNhbHQ$CTFhFdXPJO1aFaMaO6Mm5c8y7cJHAph8ArZWb2GRPPc",
		"$argon2id$v=19$m=64,t=0,p=1$c29tZXNhbHQ$CTFhFdXPJO1aFaMaO6Mm5c8y7cJHAph8ArZWb2GRPPc",
		"$argon2id$v=19$m=64,t=1,p=1$c29tZXNhbHQ$", "$argon2id$v=19$m=64,t=1,p=1$!!$!!",
	} {
		if ok, _, err := h.Verify(context.Background(), stored, "password"); ok || !errors.Is(err, errFormat) {
			t.Errorf("%q: ok %v, error %v", stored, ok, err)
		}
	}
}

func TestWaitingForAHashEndsWithTheRequest(t *testing.T) {
	h, err := NewHasher(Cost{MemoryKiB: 64, Passes: 1, Lanes: 1}, rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	h.slots <- struct{}{}
	h.slots <- struct{}{}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := h.Hash(ctx, "anything"); !errors.Is(err, context.Canceled) {
		t.Errorf("error %v, want the request's own", err)
	}
	h.waiting.Store(knownWaiting)
	if _, err := h.Hash(context.Background(), "anything"); !errors.Is(err, ErrBusy) {
		t.Errorf("error %v, want %v", err, ErrBusy)
	}
}

func BenchmarkServerHash(b *testing.B) {
	h, err := NewHasher(ServerCost(), rand.Reader)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := h.Hash(context.Background(), "four plain pebbles"); err != nil {
			b.Fatal(err)
		}
	}
}
