package server

import (
	"net/http"
	"slices"
	"strings"
)

// policy is a Content-Security-Policy by directive; an empty list stands for a
// directive without a value.
type policy map[string][]string

// contentPolicy lets the page run its own scripts and the wasm engine, talk to
// this server, and nothing else. Scripts can only be made from text through
// the one Trusted Types policy that the front end registers.
func contentPolicy() policy {
	return policy{
		"default-src":               {"'none'"},
		"script-src":                {"'self'", "'wasm-unsafe-eval'"},
		"style-src":                 {"'self'"},
		"img-src":                   {"'self'", "data:", "blob:"},
		"connect-src":               {"'self'"},
		"font-src":                  {"'self'"},
		"worker-src":                {"'self'"},
		"manifest-src":              {"'self'"},
		"frame-ancestors":           {"'none'"},
		"base-uri":                  {"'none'"},
		"form-action":               {"'self'"},
		"require-trusted-types-for": {"'script'"},
		"trusted-types":             {"doorsill"},
	}
}

// String writes the directives in alphabetical order.
func (p policy) String() string {
	names := make([]string, 0, len(p))
	for name := range p {
		names = append(names, name)
	}
	slices.Sort(names)
	parts := make([]string, 0, len(names))
	for _, name := range names {
		parts = append(parts, strings.Join(append([]string{name}, p[name]...), " "))
	}
	return strings.Join(parts, "; ")
}

// permissions switches off what the page never asks for.
const permissions = "accelerometer=(), camera=(), display-capture=(), geolocation=(), gyroscope=(), " +
	"magnetometer=(), microphone=(), midi=(), payment=(), usb=()"

// securityHeaders returns what every answer carries. Strict transport is only
// promised where the browser sees HTTPS.
func securityHeaders(secure bool) map[string]string {
	h := map[string]string{
		"Content-Security-Policy":      contentPolicy().String(),
		"X-Content-Type-Options":       "nosniff",
		"Referrer-Policy":              "no-referrer",
		"Cross-Origin-Opener-Policy":   "same-origin",
		"Cross-Origin-Resource-Policy": "same-origin",
		"Permissions-Policy":           permissions,
		"Cache-Control":                "no-store",
	}
	if secure {
		h["Strict-Transport-Security"] = "max-age=31536000"
	}
	return h
}

// withHeaders puts the headers on before anything else can answer. A handler
// may only loosen Cache-Control.
func withHeaders(headers map[string]string, next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		for name, value := range headers {
			w.Header().Set(name, value)
		}
		next.ServeHTTP(w, r)
	})
}
