package main

import (
	"bytes"
	"io"
	"strings"
	"testing"
)

func TestRun(t *testing.T) {
	for _, c := range []struct {
		args string
		code int
		out  string // what standard output begins with
		errs string // what standard error contains
	}{
		{"-pieces 3 -groups 0 -seed 7", 0, "title = \"Fairground of 3 pieces\"\n", ""},
		{"", 0, "title = \"Fairground of 100 pieces\"\n", ""},
		{"-pieces 0", 2, "", "at least one piece"},
		{"-groups 1.5", 2, "", "a share from 0 to 1"},
		{"-groups NaN", 2, "", "a share from 0 to 1"},
		{"100", 2, "", "no further words"},
		{"-pieces many", 2, "", "invalid value"},
	} {
		var out, errs bytes.Buffer
		code := run(strings.Fields(c.args), &out, &errs)
		if code != c.code || !strings.HasPrefix(out.String(), c.out) || (c.out == "") != (out.Len() == 0) || !strings.Contains(errs.String(), c.errs) {
			t.Errorf("bigsite %s: exit code %d, %.60q, %q", c.args, code, out.String(), errs.String())
		}
	}
	var errs bytes.Buffer
	if code := run(nil, full{}, &errs); code != 1 || !strings.Contains(errs.String(), io.ErrShortWrite.Error()) {
		t.Errorf("a full disk: exit code %d, %q", code, errs.String())
	}
}

// full is a disk without space.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, io.ErrShortWrite }
