package check_test

import (
	"strings"
	"testing"

	"galefast/internal/verdict"
)

// What ground bears is never said to come from where its friction comes from: a row without a bearing
// has that of unknown ground, with its source. What cures it is in the units of the file.
func TestBearingSource(t *testing.T) {
	// 300 kg and 10 % press with 3236 N: on 18 kPa 0.1798 m2 or 1.935 ft2, on 39.3 kPa 0.0823 m2 or
	// 0.886 ft2, rounded up.
	const sand, gravel = "loose fine sand, TG20:13 Appendix E", "loose coarse sand or gravel, TG20:13 Appendix E"
	for ground, want := range map[string][3]string{
		"short dry grass": {sand, "2 ft2", "0.18 m2"},
		"wet grass":       {sand, "2 ft2", "0.18 m2"},
		"unknown ground":  {sand, "2 ft2", "0.18 m2"},
		"loose gravel":    {gravel, "0.9 ft2", "0.09 m2"},
	} {
		source := want[0]
		for units, area := range map[string]string{"us": want[1], "si": want[2]} {
			r := runSite(t, "units = \""+units+"\"\n[site]\nground = \""+ground+"\"\nterrain = \"C\"\ngust_alone = \"5 m/s\"\n"+`[[column]]
name = "post"
at = ["0 m", "0 m"]
foot = ["160 mm", "100 mm"]
section = [{ name = "shaft", width = "100 mm", height = "1 m", mass = "300 kg" }]
`)
			c, ok := r.Find("standing/post/bearing")
			if !ok || c.Result != verdict.Fails {
				t.Fatalf("%s: 300 kg on 0.016 m2: %+v", ground, c)
			}
			if !strings.Contains(c.Source, source) || !strings.Contains(c.Working[len(c.Working)-1].Source, source) {
				t.Errorf("%s: its bearing is from %q, want %s", ground, c.Source, source)
			}
			if area := "needs " + area + " of bearing area"; !strings.Contains(c.Cure, area) {
				t.Errorf("%s in %s: %q, want %s", ground, units, c.Cure, area)
			}
		}
	}
}
