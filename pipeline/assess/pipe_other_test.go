//go:build !unix

package assess

import "testing"

func pipe(t *testing.T) string {
	t.Skip("this system has no named pipes")
	return ""
}
