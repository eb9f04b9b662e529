package steady

import (
	"flag"
	"os"
	"testing"
)

// TestSeed: properties draw the values of one seed unless the environment asks for others.
func TestSeed(t *testing.T) {
	if _, set := os.LookupEnv("RAPID_SEED"); set {
		return
	}
	if seed := flag.Lookup("rapid.seed").Value.String(); seed != "1" {
		t.Errorf("the seed is %s", seed)
	}
}
