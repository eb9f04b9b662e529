package check_test

import (
	"math"
	"testing"

	"galefast/internal/verdict"
)

const (
	foot  = 0.3048     // m
	pound = 0.45359237 // kg
	lbf   = 4.4482216  // N
	mph   = 0.44704    // m/s
)

// spf weighs sticks of spruce-pine-fir, kg, of G 0.42 at 12 % moisture: NDS Supplement 3.1.3,
// 62.4 G / (1 + 0.009 G m) (1 + m/100) lb/ft3. Thickness and width in the unit, length in m.
func spf(unit, thick, wide, length float64, count int) float64 {
	density := 62.4 * 0.42 / (1 + 0.009*0.42*12) * 1.12 * pound / (foot * foot * foot)
	return density * thick * unit * wide * unit * length * float64(count)
}

// board weighs panels, kg, by lb/ft2 and inches.
func board(psf, a, b float64, count int) float64 { return psf * pound * a * b / 144 * float64(count) }

// Ten printed numbers of every example site, worked from its file and the sources alone: nothing of
// the engines or of the tables is in these formulas. Masses are within a tolerance of 10 % either way.
func TestExamplesByHand(t *testing.T) {
	reports := everySite(t)
	type number struct {
		got, want float64
		formula   string
	}
	var site string
	compare := func(what string, n number) {
		t.Helper()
		if !near(n.got, n.want, 1e-4) {
			t.Errorf("%s: %s is %.6g, by hand %.6g: %s", site, what, n.got, n.want, n.formula)
		}
	}
	open := func(name string) *verdict.Report {
		site = name
		if reports[name] == nil {
			t.Fatalf("no example %s", name)
		}
		return reports[name]
	}
	mass := func(r *verdict.Report, piece string) verdict.Piece {
		for _, p := range r.Weigh.Pieces {
			if p.Name == piece {
				return p
			}
		}
		t.Fatalf("%s does not weigh %s", site, piece)
		return verdict.Piece{}
	}
	limit := func(r *verdict.Report, piece string) (forecast, handheld float64) {
		for _, l := range r.Limits.Rows {
			if l.Piece == piece && l.State == "closed" {
				return *l.GustMs, *l.HandheldMs
			}
		}
		t.Fatalf("%s has no limit of %s", site, piece)
		return 0, 0
	}
	longest := func(r *verdict.Report, cord string) float64 {
		for _, c := range r.Circuit.Runs {
			if c.Name == cord {
				return *c.LongestM
			}
		}
		t.Fatalf("%s has no cord %s", site, cord)
		return 0
	}

	// What the apple fairs share. Wind: 1/2 1.226 V² Kz(15 ft)/Kz(10 m), ASCE 7-16 Table 26.11-1, exposure C.
	q := func(gust float64) float64 {
		return 0.5 * 1.226 * gust * gust * math.Pow(15*foot/10, 2/9.5)
	}
	const wallCf = 1.45 - (96.0/72-1)*0.05 // Fig. 29.3-1, s/h 1, between B/s 1 and 2
	wallForce := func(gust float64) float64 { return q(gust) * wallCf * 96 * 72 * inch * inch }
	const wallArm = 0.55 * 6 * foot
	rails := spf(inch, 1.5, 2.5, 66*inch, 2)
	wall := spf(inch, 1.5, 2.5, 8*foot, 2) + spf(inch, 1.5, 2.5, 69*inch, 5) + board(0.78, 96, 72, 1) + rails
	aside := rails * 18 * inch / wall // of its centre, north of its line
	high := (27*rails + 36*(wall-rails)) * inch / wall
	cos, sin := math.Cos(math.Atan(0.01)), math.Sin(math.Atan(0.01))
	const h = 112 * inch // of a pier
	pierCf := func(breadth float64) float64 {
		if x := breadth * inch / h; x > 0.2 {
			return 1.65 - (x-0.2)/0.3*0.1
		} else {
			return 1.70 - (x-0.1)/0.1*0.05
		}
	}
	type box struct{ breadth, height, bottom float64 } // in
	sections := []box{{30, 20, 0}, {22, 84, 20}, {28, 8, 104}}
	onBox := func(gust float64, b box) (force, arm float64) {
		return q(gust) * pierCf(b.breadth) * b.breadth * b.height * inch * inch, (b.bottom+b.height/2)*inch + 0.05*h
	}
	leafForce := func(gust float64) float64 { return q(gust) * 1.6 * 0.45 * 40 * 60 * inch * inch } // Table 29.4-2
	plinth := spf(inch, 1.5, 3.5, 28*inch, 8) + spf(inch, 1.5, 1.5, 17*inch, 4) + board(1.1, 30, 20, 4)
	floor := board(1.5, 28, 28, 1)
	foam := 0.90 * pound * 22 * 12 * 1.5 * 8 / 1728
	frame := spf(inch, 1.5, 1.5, 84*inch, 4) + spf(inch, 1.5, 1.5, 19*inch, 16) + board(0.78, 22, 84, 4) + 0.015*51*pound
	cap, lantern := spf(inch, 1.5, 1.5, 26*inch, 6)+board(0.78, 28, 28, 1), 6*pound
	pier := 0.9 * (plinth + floor + foam + frame + cap + lantern)
	leaf := 24 * pound
	// drops solves one cord after the other of a 120 V chain: leds in W at a power factor of 0.9, the
	// rest resistances in W at 120 V; NEC Chapter 9 Table 8 at 75 C, out and back, 0.01 ohm of contacts each.
	type link struct{ feet, ohmPerKft, led, resistance float64 }
	drops := func(chain ...link) (volts []float64, amps float64) {
		v := make([]complex128, len(chain))
		for i := range v {
			v[i] = 120
		}
		size := func(z complex128) float64 { return math.Hypot(real(z), imag(z)) }
		for range 200 {
			through := make([]complex128, len(chain)+1)
			for i := len(chain) - 1; i >= 0; i-- {
				led := complex(chain[i].led/0.9, 0) * complex(0.9, -math.Sqrt(0.19)) * v[i] / complex(size(v[i])*size(v[i]), 0)
				through[i] = through[i+1] + led + complex(chain[i].resistance/14400, 0)*v[i]
			}
			at := complex(120, 0)
			for i, c := range chain {
				at -= through[i] * complex(2*c.feet*c.ohmPerKft/1000+0.01, 0)
				v[i] = at
			}
		}
		for i, c := range chain {
			volts = append(volts, size(v[i]))
			amps += c.led/0.9/size(v[i]) + c.resistance/14400*size(v[i])
		}
		return volts, amps
	}
	// withdrawal and lateral of a #9 screw into 2x spruce-pine-fir under a plate of 2 mm, wet: NDS 2018
	// 12.2-2 on two thirds of its length, and mode IIIs of Table 12.3.1A, reduced by p / 10 D.
	screw := func(length float64) (pull, shear float64) {
		const d, root, plate, bends, steel, wood = 0.177, 0.142, 0.002 / inch, 90000, 61850, 3350
		p := length - plate
		re := wood / float64(steel)
		k3 := -1 + math.Sqrt(2*(1+re)/re+2*bends*(2+re)*root*root/(3*wood*plate*plate))
		return 2850 * 0.42 * 0.42 * d * 2 * length / 3 * 0.7 * lbf, k3 * root * plate * wood / ((2 + re) * 2.2) * p / (10 * d) * 0.7 * lbf
	}
	// hinge is what a person who leans on the open leaf asks of the upper hinge's worst screw: half goes
	// to the stop at the free edge, the rest to hinges 10 and 54 in up; the plate pries about its far edge.
	hinge := func(length, wide, tall, stop float64) float64 {
		weight := 1.1 * leaf * gravity
		push := 50*lbf + weight*sin
		tip := (50*lbf*(48-32) + weight*sin*(33-32) - push/2*(stop-32)) / 44
		across, out := push/4+tip, weight*20/44
		squares, polar := 0.0, 0.0
		for i := range 4 {
			y := tall * (float64(i) + 0.5) / 4
			squares, polar = squares+y*y, polar+(y-tall/2)*(y-tall/2)
		}
		const pin = 0.006 / inch
		pull := 2*across/4 + weight*pin*(tall*7/8)/squares - out*pin/(4*wide/2)
		shear := math.Hypot(weight/4, out/4+weight*wide/2*(tall*3/8)/polar)
		w, z := screw(length)
		return (shear*shear/z + pull*pull/w) / math.Hypot(shear, pull)
	}
	// A 3/8 in bolt through two 2x of spruce-pine-fir across the grain, wind, wet: mode II of NDS 2018
	// Table 12.3.1A with R_e = R_t = 1, F_e 2850 psi; and 425 psi under its washer of 1 1/2 in.
	boltShear := (math.Sqrt(8) - 2) / 2 * 0.375 * 1.5 * 2850 / 4.5 * 1.6 * 0.7 * lbf
	boltPull := 425 * math.Pi / 4 * (1.5*1.5 - 0.4375*0.4375) * 0.67 * lbf

	r := open("apple-fair.toml")
	compare("light end of the west pier, lb", number{mass(r, "west pier").LightKg / pound, pier / pound, "0.9 of lumber, panels, foam, paint and lantern (NDS Supplement 3.1.3, PS 20, ASTM C578)"})
	resists := 0.9 * wall * gravity * (cos*(1.75*inch+aside) - sin*high)
	factor := resists / (wallForce(45*mph) * wallArm)
	compare("overturning of the west wall", number{has(t, r, "standing/west wall/overturning"), factor, "W (cos x - sin z) / (q Cf A 0.55 h), ASCE 7-16 Fig. 29.3-1"})
	compare("sliding of the west wall", number{has(t, r, "standing/west wall/sliding"), 0.9 * wall * gravity * (0.5*cos - sin) / wallForce(45*mph), "W (mu cos - sin) / F"})
	forecast, handheld := limit(r, "west wall")
	compare("limit of the west wall, mph", number{forecast / mph, 45 * math.Sqrt(factor/1.5), "V √(factor / 1.5)"})
	compare("the same at 2 m, mph", number{handheld / mph, 45 * math.Sqrt(factor/1.5) * math.Pow(2/10., 1/9.5), "(2/10)^(1/9.5), ASCE 7-16 Table 26.11-1"})
	signCf := 1.85 - (18/104.-0.16)/0.04*(1.85-1.80-(96/18.-5)/5*0.05)
	sign := 0.7 * q(45*mph) * signCf * 96 * 18 * inch * inch // case B: 0.5 + 0.2 of it on one pier
	overturns, pushes := leafForce(45*mph)*33*inch+sign*95*inch, leafForce(45*mph)+sign
	for _, b := range sections {
		f, arm := onBox(45*mph, b)
		overturns, pushes = overturns+f*arm, pushes+f
	}
	bags := 2 * 40 * pound
	heights := 0.9 * (plinth*10 + floor*3 + frame*62 + foam*80 + cap*108 + lantern*112 + leaf*33 + 8*pound*95) * inch
	weight := pier + 0.9*(leaf+8*pound) + bags
	factor = gravity * (weight*cos*14*inch - sin*heights) / overturns
	compare("overturning of the west pier", number{has(t, r, "standing/west pier/overturning"), factor, "all weights about the north edge over wind on sections, leaf and 0.7 of the sign"})
	compare("sliding of the west pier", number{has(t, r, "standing/west pier/sliding"), weight * gravity * (0.5*cos - sin) / pushes, "W (mu cos - sin) / F"})
	compare("hinge screws in the post", number{has(t, r, "hardware/west leaf/hinge screws in the post"), hinge(1.25, 1, 3, 3), "(V²/Z' + T²/W'p) / √(V² + T²), NDS 2018 12.4.1"})
	chain := []link{{100, 4.99, 50, 1000}, {50, 4.99, 50, 240}, {25, 7.95, 0, 350}}
	volts, amps := drops(chain...)
	receptacle, _ := r.Find("power/press house outlet/receptacle")
	compare("load of the receptacle, A", number{*receptacle.Needs, amps, "sum of P / (V pf) at the voltages that arrive"})
	compare("drop at the orchard string, %", number{has(t, r, "power/orchard string/voltage drop"), (120 - volts[2]) / 1.2, "I (2 L R + 0.01) along three cords, NEC Chapter 9 Table 8"})
	loop := 0.2 + 3*0.01 + 2*(150*4.99+25*7.95)/1000
	compare("fault current behind three cords, A", number{has(t, r, "power/press house outlet/fault trip"), 0.95 * 120 / loop, "0.95 U / Z, BS 7671 411.4.4"})

	r = open("apple-fair-ballasted.toml")
	compare("light end of the west pier, lb", number{mass(r, "west pier").LightKg / pound, (pier + 0.9*spf(inch, 1.5, 5.5, 60*inch, 8)) / pound, "as before, with eight outriggers"})
	onBase, onToes := 400*pound, 320*pound
	resists = gravity * (cos*(0.9*wall*(4*foot-aside)+onBase*4*foot) - sin*0.9*wall*high)
	compare("overturning of the west wall", number{has(t, r, "standing/west wall/overturning"), resists / (wallForce(35*mph) * wallArm), "about the toes, 4 ft from the wall, whose own bags do not count"})
	compare("sliding of the west wall", number{has(t, r, "standing/west wall/sliding"), (0.9*wall + onBase + onToes) * gravity * (0.5*cos - sin) / wallForce(35*mph), "W (mu cos - sin) / F"})
	// Four braces, the outer ones 3/8 L from the middle: sum of squares L² (16 - 1) / 48. Wind of case B 0.2 L off
	// the middle, a person on the end.
	share := func(off float64) float64 { return 1/4. + off*(3/8.)/(15/48.) }
	brace := wallForce(25*mph)*wallArm*share(0.2) + 50*lbf*4*foot*share(0.5) + 1.1*wall*gravity*(cos*aside+sin*high)/4
	brace *= math.Hypot(4, 4.5) / 4 / (4.5 * foot)
	compare("brace heads", number{has(t, r, "hardware/west wall/brace heads"), brace / boltShear, "M √(r² + h²) / (r h) over mode II of NDS 2018 Table 12.3.1A"})
	compare("keeper, open", number{has(t, r, "hardware/west leaf/keeper, open"), 1.5 * (50*lbf + leafForce(25*mph) + 1.1*leaf*gravity*sin) / 2 / (60 * lbf), "1.5 times half of person, wind and slope over the 60 lbf of the file"})
	compare("hinge screws in the post", number{has(t, r, "hardware/west leaf/hinge screws in the post"), hinge(1.5, 1.25, 3.5, 33), "(V²/Z' + T²/W'p) / √(V² + T²), NDS 2018 12.4.1"})
	// Wind from SSE on what stands above the pillar's joint: pillar and cap along it, leaf and 0.7 of the sign square
	// to their faces; dead loads times 0.6 (ASCE 7-16 2.4.1), with the slope the wind's way.
	east, north := -0.5, math.Sqrt(3)/2
	var fx, fy, mx, my, mz, down float64 // tips to the east, tips to the north, twists
	act := func(x, z, f, g float64) {
		fx, fy, mx, my, mz = fx+f, fy+g, mx+f*(z-20)*inch, my+g*(z-20)*inch, mz+g*x*inch
	}
	for _, b := range sections[1:] {
		f, arm := onBox(35*mph, b)
		act(0, arm/inch, f*east, f*north)
	}
	act(31, 33, 0, leafForce(35*mph))
	act(14, 92, 0, 0.7*q(35*mph)*1.85*96*12*inch*inch)
	for _, w := range []struct{ kg, x, z float64 }{{frame, 0, 62}, {foam, 0, 80}, {cap, 0, 108}, {lantern, 0, 112}, {leaf, 31, 33}, {11 * pound / 2, 14, 92}} {
		f := 0.6 * 0.9 * w.kg * gravity
		down += f * cos
		mx += f * cos * w.x * inch
		act(w.x, w.z, f*sin*east, f*sin*north)
	}
	pull := 0.0
	for _, m := range []float64{math.Abs(mx), my} { // bolts 2 in and 20 in from the edge that presses, 22 in wide
		pull += (m - down*m/(math.Abs(mx)+my)*11*inch) * 20 * inch / (2 * (4 + 400) * inch * inch)
	}
	twist := mz / (4 * 18 * inch) // each way, on a bolt 9 in off both axes
	shear := math.Hypot(fx/4+twist, fy/4+twist)
	compare("joint bolts of the pillar", number{has(t, r, "hardware/west pier, pillar/joint bolts"), shear/boltShear + pull/boltPull, "V/Z' + T/T' of the windward bolt, NDS 2018 Table 12.3.1A and 3.10.2"})
	chain = []link{{100, 3.14, 50, 240}}
	volts, amps = drops(chain...)
	compare("drop at the sign lamps, %", number{has(t, r, "power/sign lamps/voltage drop"), (120 - volts[0]) / 1.2, "I (2 L R + 0.01), NEC Chapter 9 Table 8"})
	compare("leakage, mA", number{1000 * has(t, r, "power/press house outlet/leakage"), 100*foot*0.01 + 0.3*amps, "0.01 mA a metre, 0.3 mA an ampere (Martindale 2018)"})
	chain[0].feet = longest(r, "run 1") / foot
	volts, _ = drops(chain...)
	compare("drop of the longest run 1, %", number{(120 - volts[0]) / 1.2, 3, "3 % of 120 V, NEC 210.19(A) note"})

	// The school. Wind: 1/2 1.25 V² ce(z)/ce(10), EN 1991-1-4 4.3 to 4.8, terrain II.
	r = open("school-fair.toml")
	const mm = 1e-3
	ce := func(z float64) float64 {
		l := math.Log(math.Max(z, 2) / 0.05)
		return (1 + 7/l) * 0.19 * 0.19 * l * l
	}
	pressure := func(gust, z float64) float64 { return 0.5 * 1.25 * gust * gust * ce(z) / ce(10) }
	cos, sin = math.Cos(math.Atan(0.03)), math.Sin(math.Atan(0.03))
	const lightPly, heavyPly = 0.46, 9.18 / 15 // kg/m2 a mm: 460 kg/m3, and 0.006 kN/m2 a mm of ASCE 7-16 Table C3.1-1b
	feet, legs, skin := spf(mm, 45, 95, 1.2, 4), spf(mm, 45, 45, 1.8, 4), 9*0.3*1.8*4.
	light, heavy := 0.9*(feet+legs+skin*lightPly), 1.1*(feet+legs+skin*heavyPly)
	if p := mass(r, "gate post"); math.Abs(p.LightKg-light) > 0.01 || math.Abs(p.HeavyKg-heavy) > 0.02 {
		t.Errorf("%s: the gate post weighs %.3f to %.3f kg, by hand %.3f to %.3f: NDS Supplement 3.1.3, plywood of 460 kg/m3 and of ASCE 7-16 Table C3.1-1b", site, p.LightKg, p.HeavyKg, light, heavy)
	}
	p := mass(r, "gate post")
	light, heavy = p.LightKg, p.HeavyKg
	on := (heavy + 1.1*14 + 100) * gravity
	compare("bearing of the gate post", number{has(t, r, "standing/gate post/bearing"), 18000 * 1.2 * 1.2 / on, "p A / N, loose fine sand 18 kPa by TG20:13 Appendix E"})
	edge := 0.6 - on/(2*18000*1.2)
	push := pressure(9, 1.8) * (1.70 - (0.3/1.8-0.1)/0.1*0.05) * 0.3 * 1.8
	resists = gravity * (light*(edge*cos-p.CentreM[2]*sin) + 100*edge*cos + 15.4*((edge-0.55)*cos-0.71*sin))
	compare("overturning of the gate post", number{has(t, r, "standing/gate post/overturning"), resists / (push*0.55*1.8 + 220*1.2), "weights about the edge less N / (2 p L), over wind (Fig. 29.3-1) and person"})
	compare("sliding of the gate post", number{has(t, r, "standing/gate post/sliding"), (light + 12.6 + 100) * gravity * (0.35*cos - sin) / (push + pressure(9, 1.8)*1.6*0.35*1.1*1.3 + 220), "W (mu cos - sin) / (post, leaf and person), ASCE 7-16 Table 29.4-2"})
	w := mass(r, "star wall")
	sticks, ply := spf(mm, 45, 70, 3.6, 2)+spf(mm, 45, 70, 1.8, 7)+spf(mm, 45, 70, 1.2, 4), 6*(3.6+2.4)*1.9
	if want := 0.9 * (sticks + ply*lightPly); math.Abs(w.LightKg-want) > 0.01 {
		t.Errorf("%s: the star wall weighs %.3f kg at least, by hand %.3f: NDS Supplement 3.1.3, plywood of 460 kg/m3", site, w.LightKg, want)
	}
	edge = 0.0475 - (w.HeavyKg+150)*gravity/(2*18000*3.6)
	factor = gravity * (w.LightKg*((edge+w.CentreM[1])*cos-0.95*sin) + 150*edge*cos) / (pressure(15, 1.9) * (1.45 - (3.6/1.9-1)*0.05) * 3.6 * 1.9 * 0.55 * 1.9)
	compare("overturning of the star wall", number{has(t, r, "standing/star wall/overturning"), factor, "W (cos x - sin z) / (q Cf A 0.55 h), ASCE 7-16 Fig. 29.3-1, edge less N / (2 p L)"})
	forecast, handheld = limit(r, "star wall")
	compare("limit of the star wall, m/s", number{forecast, 15 * math.Sqrt(factor/1.5), "V √(factor / 1.5)"})
	compare("the same at 2 m, m/s", number{handheld, forecast * math.Sqrt(ce(2)/ce(10)), "√(ce(2) / ce(10)), EN 1991-1-4 4.8"})
	// A person pushes the drum at 45 degrees, 1.5 times 220 N, 0.8 m above its bolts; 0.9 of its weight helps.
	drum := spf(mm, 28, 45, 2, 8) + 6*(lightPly+heavyPly)/2*1.57*2
	base := spf(mm, 45, 95, 1.2, 4) + spf(mm, 45, 45, 0.4, 4) + 9*(lightPly+heavyPly)/2*0.7*0.4*4
	scale := 41 / (drum + 2.5 + base)
	dead := 0.9 * gravity * scale * (drum + 2.5)
	at := (drum*1 + 2.5*1.9) / (drum + 2.5)
	moment := (1.5*220*0.8 + dead*sin*at) / math.Sqrt2
	pull = 2 * (moment - dead*cos/2*0.25) * 0.4 / (2 * (0.01 + 0.16))
	shear = (1.5*220 + dead*sin) / 4
	const kmod = 0.55 / 1.3
	axial := kmod * 3 * 2.5 * math.Pi / 4 * (40*40 - 11*11)
	across := kmod * 1.25 * 0.082 * 0.9 * 350 / 1.5 * 45 * 10 / 2 * (math.Sqrt(8) - 2)
	if got, want := has(t, r, "hardware/lantern tower, drum/joint bolts"), math.Hypot(shear/across, pull/axial); !near(got, want, 2e-3) {
		t.Errorf("%s: joint bolts of the drum are used to %.5f, by hand %.5f: √((V/R_v)² + (T/R_ax)²), EN 1995-1-1 8.2.2 (c) and 8.5.2(2)", site, got, want)
	}
	ohm := 13.3 / 1000 * (1 + 0.00393*40) // IEC 60228 class 5 at 60 C
	reel := 0.95 * 230 / (0.8 + 2*40*ohm + 0.01)
	compare("time that the reel bears, s", number{has(t, r, "power/reel/short circuit"), math.Pow(115*1.5/reel, 2), "(k S / I)², IEC 60364-4-43 434.5.2"})
	compare("people", number{has(t, r, "way/path to the hall/capacity"), 1.8 / 0.005, "1.80 m at 5 mm a person, Approved Document B"})
}
