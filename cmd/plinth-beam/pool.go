package main

import (
	"context"
	"os/signal"
	"syscall"

	"github.com/apache/beam/sdks/v2/go/pkg/beam/runners/universal/extworker"
)

// servePool starts a worker in this process for every runner that asks for one on the port, until
// the process is told to stop. Only this machine can ask. A runner asks where its environment is
// EXTERNAL with localhost and the port.
func servePool(ctx context.Context, port int) error {
	ctx, stop := signal.NotifyContext(ctx, syscall.SIGINT, syscall.SIGTERM)
	defer stop()
	pool, err := extworker.StartLoopback(ctx, port)
	if err != nil {
		return err
	}
	<-ctx.Done()
	return pool.Stop(context.WithoutCancel(ctx))
}
