package whole

// choices makes decisions out of bytes. Where they run out, every decision is the first one, so
// that a short input is a plain site and each byte more changes little.
type choices struct{ data []byte }

func (c *choices) next() int {
	if len(c.data) == 0 {
		return 0
	}
	b := c.data[0]
	c.data = c.data[1:]
	return int(b)
}

// below gives a number from 0 to n-1.
func (c *choices) below(n int) int {
	if n < 2 {
		return 0
	}
	v := c.next()
	if n > 256 {
		v = v<<8 | c.next()
	}
	return v % n
}

// once is true one time in n.
func (c *choices) once(n int) bool { return c.below(n) == n-1 }

func pick[T any](c *choices, list []T) T { return list[c.below(len(list))] }
