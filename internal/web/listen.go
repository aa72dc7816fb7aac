package web

import (
	"context"
	"errors"
	"fmt"
	"log"
	"net"
	"net/http"
	"strconv"
	"time"
)

// firstPort is where the workshop is looked for; the ports after it are tried
// when it is taken.
const firstPort = 8747

// Listen opens a loopback address. Port 0 takes 8747 or, when that is taken,
// one of the nine after it, or any that is free. Any address that another
// machine could reach is refused: a car's record is for this machine.
func Listen(host string, port int) (net.Listener, error) {
	if host == "" || host == "localhost" {
		host = "127.0.0.1"
	}
	ip := net.ParseIP(host)
	if ip == nil || !(ip.Equal(net.IPv4(127, 0, 0, 1)) || ip.Equal(net.IPv6loopback)) {
		return nil, fmt.Errorf("--listen %s: other machines could read the cars there; accepted: 127.0.0.1, ::1 or localhost", host)
	}
	if port < 0 || port > 65535 {
		return nil, fmt.Errorf("--port %d; 1 to 65535 is accepted, or 0 for one that is free", port)
	}
	ports := []int{port}
	if port == 0 {
		ports = ports[:0]
		for p := firstPort; p < firstPort+10; p++ {
			ports = append(ports, p)
		}
		ports = append(ports, 0)
	}
	var errs []error
	for _, p := range ports {
		l, err := net.Listen("tcp", net.JoinHostPort(host, strconv.Itoa(p)))
		if err == nil {
			return l, nil
		}
		errs = append(errs, err)
	}
	return nil, fmt.Errorf("--port %d can't be had, another program may have it: %w", port, errs[0])
}

// Address is where a listener's pages are.
func Address(l net.Listener) string { return "http://" + l.Addr().String() + "/" }

// Serve answers requests until ctx is done, then lets those under way finish.
func (s *Server) Serve(ctx context.Context, l net.Listener, logger *log.Logger) error {
	_, port, err := net.SplitHostPort(l.Addr().String())
	if err != nil {
		return err
	}
	srv := &http.Server{
		Handler:           s.Handler(port, logger),
		ReadHeaderTimeout: 5 * time.Second,
		ReadTimeout:       10 * time.Second,
		WriteTimeout:      60 * time.Second,
		IdleTimeout:       2 * time.Minute,
		MaxHeaderBytes:    16 << 10,
		ErrorLog:          logger,
	}
	done := make(chan error, 1)
	go func() { done <- srv.Serve(l) }()
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
	}
	wait, cancel := context.WithTimeout(context.Background(), 5*time.Second)
	defer cancel()
	if err := srv.Shutdown(wait); err != nil {
		return errors.Join(err, srv.Close())
	}
	return nil
}
