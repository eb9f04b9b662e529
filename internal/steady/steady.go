// Package steady makes property tests draw the same values in every run, so that a change passes
// or fails by what it does and not by luck. A test file imports it for that effect:
//
//	import _ "galefast/internal/steady"
//
// RAPID_SEED=0 in the environment, or -rapid.seed after a package's path, draws other values.
package steady

import (
	"flag"
	"os"

	_ "pgregory.net/rapid" // defines the flag
)

func init() {
	if _, set := os.LookupEnv("RAPID_SEED"); !set {
		flag.Set("rapid.seed", "1") // a test looks whether it is
	}
}
