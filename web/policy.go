package web

import (
	"net"
	"net/http"
	"net/netip"
	"strings"
)

// contentPolicy lets a page load from this server only and run no script or
// style written into the page, so that a customer's name with markup in it
// stays a name. WebAssembly is allowed for the phone without signal.
const contentPolicy = "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; " +
	"img-src 'self' blob: data:; object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"

// drawingPolicy is for a sheet opened by itself: it may carry its own styles
// and fonts and may reach nothing.
const drawingPolicy = "default-src 'none'; style-src 'unsafe-inline'; font-src data:; img-src data:; frame-ancestors 'none'"

func policy(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", contentPolicy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		next.ServeHTTP(w, r)
	})
}

// localHostOnly refuses requests made under another name than this machine's.
// Without it any site could point a name of its own at 127.0.0.1 and read the
// jobs through the visitor's browser.
func localHostOnly(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		host := strings.Trim(r.Host, "[]")
		if h, _, err := net.SplitHostPort(r.Host); err == nil {
			host = h
		}
		ip, err := netip.ParseAddr(host)
		if host != "localhost" && (err != nil || !ip.IsLoopback()) {
			http.Error(w, "this server answers to localhost and 127.0.0.1 only", http.StatusMisdirectedRequest)
			return
		}
		next.ServeHTTP(w, r)
	})
}

func onThisMachine(a net.Addr) bool {
	t, ok := a.(*net.TCPAddr)
	return ok && t.IP.IsLoopback()
}
