package web

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"time"
)

// Options is all that the server takes from outside.
type Options struct {
	Desk    Desk
	Record  Record           // for devices under /sync; nil, no devices
	Gallery []Room           // specimen pages under /gallery; none, no gallery
	Now     func() time.Time // for the age of a job
	Log     *slog.Logger     // the program's own faults
}

// grace is how long a page under way may take once the server is told to stop.
const grace = 3 * time.Second

// Listen opens addr. An address without a host means this machine alone: a
// page that shows a customer's house must not be on the network by accident.
func Listen(ctx context.Context, addr string) (net.Listener, error) {
	host, port, err := net.SplitHostPort(addr)
	if err != nil {
		return nil, fmt.Errorf("listen address %q; expected HOST:PORT, such as 127.0.0.1:8480: %w", addr, err)
	}
	if host == "" {
		host = "127.0.0.1"
	}
	return new(net.ListenConfig).Listen(ctx, "tcp", net.JoinHostPort(host, port))
}

// Serve answers on l until ctx ends, then lets pages under way finish.
func Serve(ctx context.Context, l net.Listener, o Options) error {
	h, err := Handler(o)
	if err != nil {
		return err
	}
	if onThisMachine(l.Addr()) {
		h = localHostOnly(h)
	}
	srv := &http.Server{
		Handler:           h,
		ReadHeaderTimeout: 10 * time.Second,
		IdleTimeout:       2 * time.Minute,
		ErrorLog:          slog.NewLogLogger(o.Log.Handler(), slog.LevelWarn),
	}
	ended := make(chan error, 1)
	go func() { ended <- srv.Serve(l) }()
	select {
	case err := <-ended:
		return err
	case <-ctx.Done():
	}
	last, cancel := context.WithTimeout(context.WithoutCancel(ctx), grace)
	defer cancel()
	if err := srv.Shutdown(last); err != nil {
		return errors.Join(err, srv.Close())
	}
	return nil
}

// Handler is the whole site without a listener.
func Handler(o Options) (http.Handler, error) {
	s, err := newSite(o)
	if err != nil {
		return nil, err
	}
	return policy(http.NewCrossOriginProtection().Handler(s.routes())), nil
}
