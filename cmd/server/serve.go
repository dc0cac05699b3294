package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"time"
)

const serveHelp = `Usage: duskline serve [options]

Serves a site that "duskline site" wrote, until Ctrl-C. It sends files and
nothing else: plans stay in the browser. A newer site written into the same
folder is served at once.

It speaks plain http. Browsers keep the app for use without a network from
http only on this machine itself (127.0.0.1, localhost); for other machines
put a server with https in front of it, or let that server serve the folder.

Exit status: 0 stopped by a signal, 1 failed (port taken, no site), 64 wrong use.`

func runServe(args []string, std streams) int {
	f := newFlags("serve", serveHelp, std)
	addr := f.String("addr", "127.0.0.1:8000", "`host:port` to listen on; port 0 takes a free one")
	dir := f.String("dir", "build/site", "`folder` of the site")
	logged := f.Bool("log", false, "write a line for each request to standard error")
	words, status, ok := parse(f, args, std)
	if !ok {
		return status
	}
	if len(words) != 0 {
		fmt.Fprintf(std.err, "duskline serve: %q is not understood; -h explains\n", words[0])
		return exitUsage
	}
	if _, err := os.Stat(filepath.Join(*dir, listName)); err != nil {
		return fail(std, fmt.Errorf("there is no site in %s: `make site` makes it", *dir))
	}
	root, err := os.OpenRoot(*dir)
	if err != nil {
		return fail(std, err)
	}
	defer root.Close()

	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	listener, err := net.Listen("tcp", *addr)
	if err != nil {
		return fail(std, listenError(*addr, err))
	}
	var handler http.Handler = newSite(root.FS())
	if *logged {
		handler = logging(handler, std.err)
	}
	fmt.Fprintf(std.out, "Duskline: http://%s/ (Ctrl-C stops it)\n", shown(listener.Addr()))
	if err := serve(ctx, listener, handler); err != nil {
		return fail(std, err)
	}
	return exitDone
}

// serve answers until ctx ends, then lets running answers finish for a while.
// The times allow a slow phone: two megabytes in ten minutes.
func serve(ctx context.Context, l net.Listener, h http.Handler) error {
	srv := &http.Server{
		Handler:           h,
		ReadHeaderTimeout: 5 * time.Second,
		ReadTimeout:       10 * time.Second,
		WriteTimeout:      10 * time.Minute,
		IdleTimeout:       2 * time.Minute,
		MaxHeaderBytes:    16 << 10,
	}
	ended := make(chan error, 1)
	go func() { ended <- srv.Serve(l) }()
	select {
	case err := <-ended:
		return err
	case <-ctx.Done():
	}
	grace, cancel := context.WithTimeout(context.Background(), 3*time.Second)
	defer cancel()
	if err := srv.Shutdown(grace); err != nil {
		srv.Close()
	}
	if err := <-ended; !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return nil
}

// listenError says in one line what to do about it.
func listenError(addr string, err error) error {
	if errors.Is(err, syscall.EADDRINUSE) {
		return fmt.Errorf("%s is taken by another program: choose another port with -addr, or `make run ADDR=127.0.0.1:8001`", addr)
	}
	return fmt.Errorf("cannot listen on %s (-addr, or ADDR= of make): %w", addr, err)
}

// shown is the address as a browser on this machine can open it.
func shown(a net.Addr) string {
	host, port, err := net.SplitHostPort(a.String())
	if ip := net.ParseIP(host); err == nil && ip != nil && ip.IsUnspecified() {
		return net.JoinHostPort("localhost", port)
	}
	return strings.TrimSuffix(a.String(), ":80")
}

// logging writes what was asked and what was answered.
func logging(h http.Handler, w io.Writer) http.Handler {
	return http.HandlerFunc(func(rw http.ResponseWriter, r *http.Request) {
		k := &keeper{ResponseWriter: rw, status: http.StatusOK}
		h.ServeHTTP(k, r)
		coding := k.Header().Get("Content-Encoding")
		if coding == "" {
			coding = "plain"
		}
		fmt.Fprintf(w, "%s %q %d %s %d\n", r.Method, r.RequestURI, k.status, coding, k.sent)
	})
}

// keeper remembers the status and the length of an answer.
type keeper struct {
	http.ResponseWriter
	status int
	sent   int64
}

func (k *keeper) WriteHeader(status int) {
	k.status = status
	k.ResponseWriter.WriteHeader(status)
}

func (k *keeper) Write(b []byte) (int, error) {
	n, err := k.ResponseWriter.Write(b)
	k.sent += int64(n)
	return n, err
}
