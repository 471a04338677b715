package commands

import (
	"context"
	"errors"
	"io"
	"os"
	"os/signal"
	"syscall"

	"plinth/pipeline"
)

// A stopError is the cause of a context that a signal ended. Its exit code is that of shells: 128
// plus the number of the signal.
type stopError struct {
	signal syscall.Signal
	word   string
}

func (e *stopError) Error() string { return e.word }

// Is makes a stop count as a cancelled context.
func (e *stopError) Is(target error) bool { return target == context.Canceled }

// untilSignal returns a context that ends with the first interrupt, request to terminate or closing
// of the terminal. A hang-up that the caller has turned off (nohup) stays off. A second signal ends
// the process, as it does for any program.
func untilSignal(ctx context.Context) (context.Context, func()) {
	ctx, cancel := context.WithCancelCause(ctx)
	signals := make(chan os.Signal, 1)
	signal.Notify(signals, os.Interrupt, syscall.SIGTERM)
	if !signal.Ignored(syscall.SIGHUP) {
		signal.Notify(signals, syscall.SIGHUP)
	}
	go func() {
		select {
		case s := <-signals:
			signal.Stop(signals)
			switch s {
			case syscall.SIGTERM:
				cancel(&stopError{syscall.SIGTERM, "terminated"})
				return
			case syscall.SIGHUP:
				cancel(&stopError{syscall.SIGHUP, "hung up"})
				return
			}
			cancel(&stopError{syscall.SIGINT, "interrupted"})
		case <-ctx.Done():
		}
	}()
	return ctx, func() {
		signal.Stop(signals)
		cancel(nil)
	}
}

// stopped prints how a command ended for which ctx was ended, and returns its exit code.
func stopped(ctx context.Context, err error, stderr io.Writer) int {
	stop := &stopError{syscall.SIGINT, "interrupted"}
	errors.As(context.Cause(ctx), &stop)
	complain(stderr, stop.word+"; no file was left half written")
	var unfinished *pipeline.UnfinishedError
	if errors.As(err, &unfinished) {
		complain(stderr, unfinished.Remedy())
	}
	return 128 + int(stop.signal)
}
