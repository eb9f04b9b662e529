package main

import (
	"context"
	"errors"
	"fmt"
	"os/signal"

	"github.com/spf13/cobra"

	"galefast/internal/site"
	"galefast/internal/watch"
)

// watchable gives a command the flag --watch: it runs again whenever its file has changed.
func (a *app) watchable(cmd *cobra.Command) *cobra.Command {
	on, once := false, cmd.RunE
	cmd.Flags().BoolVar(&on, "watch", false, "run again whenever the file is saved, until Ctrl-C")
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		if !on {
			return once(cmd, args)
		}
		if len(args) == 0 || args[0] == "-" {
			return errors.New("--watch needs the file to watch")
		}
		// The first signal lets a run that is going on finish, and a second one ends it.
		signal.Reset(endings...)
		ctx, stop := signal.NotifyContext(context.Background(), endings...)
		defer stop()
		if a.guard != nil {
			context.AfterFunc(ctx, a.guard)
		}
		return a.watch(ctx, args[0], func() error { return once(cmd, args) })
	}
	return cmd
}

// watch runs once on the file at first, and then on every content that it gets. The exit
// code is that of the last run. A command line that cannot be used ends it at once; a file
// that cannot be used is one that somebody is still writing.
func (a *app) watch(ctx context.Context, path string, once func() error) error {
	if _, _, err := a.read([]string{path}); err != nil {
		return err
	}
	first := true
	return watch.Content(ctx, func() ([]byte, error) {
		a.held = nil
		_, src, err := a.read([]string{path})
		return src, err
	}, func(src []byte) error {
		a.held, a.exit = src, exitHolds
		if err := once(); err != nil {
			if first && !errors.Is(err, errReported) {
				return err
			}
			a.complain(err)
			a.exit = exitUnusable
		}
		first = false
		fmt.Fprintf(a.stderr, "galefast: watching %s; Ctrl-C ends\n", site.Visible(path))
		return nil
	}, func(err error) {
		a.complain(err)
		fmt.Fprintf(a.stderr, "galefast: waiting for %s\n", site.Visible(path))
	})
}
