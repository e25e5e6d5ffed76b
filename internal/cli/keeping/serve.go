package keeping

import (
	"context"
	"errors"
	"fmt"
	"net"
	"os"
	"os/signal"
	"strconv"
	"syscall"

	"github.com/spf13/cobra"

	"undersod/core/english"
	"undersod/internal/holding"
	"undersod/internal/serve"
)

// serving is what the serve command was asked for.
type serving struct {
	data        archiveFolder
	listen      string
	cert, key   string
	demo        bool
	behindProxy bool
}

func (p *Outside) serveCommand() *cobra.Command {
	var s serving
	c := &cobra.Command{
		Use:   "serve",
		Short: "Keep sites, visits and photos, and show them in a browser",
		Long: `serve keeps an archive in one folder and serves it to browsers and programs: sites
with their visits, plans, photos, reports and cards, the history of every change,
what is due, and people with what they may do. Nothing else need run.

It answers this machine alone unless --listen says otherwise; give it a
certificate then, or put a proxy that speaks TLS before it and say --behind-proxy.
The proxy must pass on Host as it was asked, and add the address it is asked from
to X-Forwarded-For. The first start says how to make the first account. Ctrl-C stops it in order.
Back it up with undersod backup, also while it runs.

--demo fills an archive that has no site with invented ones; without --data it is
one that is thrown away at the end.`,
		Example: "  undersod serve --demo\n  undersod serve --data archive\n  undersod serve --listen :8443 --cert site.pem --key site.key",
		Args:    cobra.NoArgs,
		RunE:    func(*cobra.Command, []string) error { return p.serve(s) },
	}
	s.data.flag(c)
	c.Flags().StringVar(&s.listen, "listen", "127.0.0.1:8390", "address and port to answer at; :8390 is every address of this machine")
	c.Flags().StringVar(&s.cert, "cert", "", "certificate file (PEM, the whole chain), for TLS")
	c.Flags().StringVar(&s.key, "key", "", "key file of the certificate (PEM)")
	c.Flags().BoolVar(&s.demo, "demo", false, "fill an empty archive with invented sites")
	c.Flags().BoolVar(&s.behindProxy, "behind-proxy", false, "people come by a proxy that speaks TLS with them")
	return c
}

func (p *Outside) serve(s serving) (err error) {
	if (s.cert == "") != (s.key == "") {
		return fmt.Errorf("TLS needs both: --cert with the certificate, --key with its key")
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	context.AfterFunc(ctx, stop) // a second signal ends the program at once
	// An address that cannot be had must not leave a new archive behind.
	plain, open, err := s.at()
	if err != nil {
		return err
	}
	defer open.Close()
	if s.demo && s.data.path == "" {
		if s.data.path, err = os.MkdirTemp("", "undersod-demo-"); err != nil {
			return fmt.Errorf("the demo has no place: %v", err)
		}
		defer os.RemoveAll(s.data.path)
	}
	a, err := s.data.open(ctx)
	if err != nil {
		return err
	}
	defer func() {
		if failed := a.Close(); failed != nil && err == nil {
			err = fmt.Errorf("the archive did not close in order: %v", failed)
		}
	}()
	if s.demo {
		if err := p.fill(ctx, a); err != nil {
			return err
		}
	}
	return p.answer(ctx, s, a, plain, open)
}

// at listens, and returns where, and how people come there.
func (s serving) at() (plain net.Addr, open net.Listener, err error) {
	if open, err = net.Listen("tcp", s.listen); err != nil {
		return nil, nil, errors.New(plainListenError(s.listen, err))
	}
	plain = open.Addr()
	if s.cert == "" {
		return plain, open, nil
	}
	secured, err := serve.Secured(open, s.cert, s.key)
	if err != nil {
		open.Close()
		return nil, nil, err
	}
	return plain, secured, nil
}

// fill brings the demo in.
func (p *Outside) fill(ctx context.Context, a *holding.Archive) error {
	made, err := serve.Fill(ctx, a)
	switch {
	case err != nil:
		return fmt.Errorf("the demo cannot be brought in: %v", err)
	case made == 0:
		p.Complain("this archive has sites already; the demo is left out")
		return nil
	}
	return p.Write(fmt.Appendf(nil, "%s of invented sites brought in.\n", english.Count(made, "visit")))
}

// answer says where it listens, and serves until it is stopped.
func (p *Outside) answer(ctx context.Context, s serving, a *holding.Archive, plain net.Addr, open net.Listener) error {
	run := serve.Settings{Archive: a, Listener: open, Log: serve.NewLog(p.Err, p.Notes), Secure: s.cert != "" || s.behindProxy, Proxied: s.behindProxy}
	first, err := a.Unclaimed(ctx)
	if err != nil {
		return s.data.about(err)
	}
	if first && (!serve.Loopback(plain) || s.behindProxy) {
		run.Code = serve.NewCode()
	}
	if err := p.greet(s, plain, first, run.Code); err != nil {
		return err
	}
	err = serve.Run(ctx, run)
	if ctx.Err() == nil {
		return fmt.Errorf("the server ended by itself: %v", err)
	}
	if err != nil {
		run.Log.Warn(err.Error())
	}
	run.Log.Info("stopped")
	return nil
}

// greet says where the archive is, where to open it, and how to begin.
func (p *Outside) greet(s serving, at net.Addr, first bool, code string) error {
	if !serve.Loopback(at) && s.cert == "" && !s.behindProxy {
		p.Complain("warning: whoever shares this network can read along, passwords too: nothing is encrypted. Give --cert and --key, or put a proxy that speaks TLS before it and say --behind-proxy")
	}
	words := fmt.Sprintf("The archive is in %s\nOpen %s in a browser\n", s.data.path, address(at, s.cert != ""))
	if first {
		words += "Nobody has an account yet: that page makes the first one, an owner.\n"
	}
	switch {
	case code != "" && s.behindProxy:
		words += fmt.Sprintf("It asks for this code: %s\n", code)
	case code != "":
		words += fmt.Sprintf("From another machine it asks for this code: %s\n", code)
	}
	return p.Write([]byte(words + "Ctrl-C stops it\n"))
}

// address is where a browser finds the server.
func address(at net.Addr, secure bool) string {
	scheme := "http"
	if secure {
		scheme = "https"
	}
	tcp, ok := at.(*net.TCPAddr)
	if !ok {
		return at.String()
	}
	host := tcp.IP.String()
	if tcp.IP.IsUnspecified() {
		host = "localhost"
		if name, err := os.Hostname(); err == nil {
			host = name
		}
	}
	return scheme + "://" + net.JoinHostPort(host, strconv.Itoa(tcp.Port)) + "/"
}

// plainListenError tells in words why nothing can be answered at an address.
func plainListenError(address string, err error) string {
	switch {
	case errors.Is(err, syscall.EADDRINUSE):
		return fmt.Sprintf("another program answers at %s already; end it, or name another with --listen", address)
	case errors.Is(err, syscall.EACCES):
		return fmt.Sprintf("this account may not answer at %s; name a port above 1023 with --listen", address)
	}
	var failed *net.OpError
	if errors.As(err, &failed) {
		err = failed.Err
	}
	return fmt.Sprintf("nothing can be answered at %q: %v; name an address and a port, as in --listen 127.0.0.1:8390", address, err)
}
