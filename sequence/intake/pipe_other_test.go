//go:build !unix

package intake

import "errors"

func makePipe(path string) error { return errors.ErrUnsupported }
