package intake

import (
	"context"
	"errors"

	"doorsill/internal/account"
	"doorsill/internal/validation"
)

// refused says whether an error is an answer to the caller and not a fault.
// Jobs return these only before they have written anything.
func refused(err error) bool {
	var push *PushError
	var changed *Changed
	var invalid *validation.Error
	return errors.As(err, &push) || errors.As(err, &changed) || errors.As(err, &invalid) && invalid.Code == validation.CodeInvalid ||
		errors.Is(err, account.ErrNotAllowed) || errors.Is(err, ErrAuthorIsHere) || errors.Is(err, ErrTakenIn) ||
		errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded)
}
