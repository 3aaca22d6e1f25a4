package gate

import (
	"testing"

	"pairwall/sequence"
)

func TestListenRefusesEveryAddressAnotherMachineCouldReach(t *testing.T) {
	for _, addr := range []string{":0", "0.0.0.0:0", "[::]:0", "192.168.1.20:0", "10.0.0.1:8017", "example.org:80",
		"localhost.example.org:0", "127.0.0.1", "", "[fe80::1%lo]:0", "[::ffff:10.0.0.1]:0"} {
		listener, err := Listen(addr)
		if err == nil {
			listener.Close()
		}
		if sequence.CodeOf(err) != sequence.Invalid {
			t.Errorf("Listen(%q): %v, want it refused as invalid", addr, err)
		}
	}
}

func TestListenTakesThisMachinesOwnAddresses(t *testing.T) {
	for _, addr := range []string{"127.0.0.1:0", "localhost:0", "LOCALHOST:0", "127.0.0.2:0"} {
		listener, err := Listen(addr)
		if err != nil {
			t.Errorf("Listen(%q): %v", addr, err)
			continue
		}
		if _, err := Listen(listener.Addr().String()); sequence.CodeOf(err) != sequence.Conflict {
			t.Errorf("a second listener at %s: %v, want a conflict", listener.Addr(), err)
		}
		listener.Close()
	}
}
