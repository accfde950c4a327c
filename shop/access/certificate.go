package access

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/sha256"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/hex"
	"encoding/pem"
	"errors"
	"fmt"
	"io/fs"
	"math/big"
	"net"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// How long a self-made certificate lasts: browsers take no longer ones from
// anybody since 2020 (398 days; from memory).
const certified = 397 * 24 * time.Hour

// Certificate loads the workshop's own certificate from a folder, or makes one
// that names the hosts, when there is none, when it ends within a month, or
// when a host is missing in it.
func Certificate(dir string, hosts []string, now time.Time) (tls.Certificate, error) {
	certPath, keyPath := filepath.Join(dir, "tls-certificate.pem"), filepath.Join(dir, "tls-key.pem")
	if pair, err := tls.LoadX509KeyPair(certPath, keyPath); err == nil {
		leaf, err := x509.ParseCertificate(pair.Certificate[0])
		if err == nil && now.After(leaf.NotBefore) && now.Add(30*24*time.Hour).Before(leaf.NotAfter) && names(leaf, hosts) {
			return pair, nil
		}
	} else if _, there := os.Stat(certPath); there == nil && !errors.Is(err, fs.ErrNotExist) {
		return tls.Certificate{}, fmt.Errorf("the certificate %s cannot be read: %w; take it away to have a new one made", certPath, err)
	}
	cert, key, err := selfMade(hosts, now)
	if err != nil {
		return tls.Certificate{}, err
	}
	if err := errors.Join(os.WriteFile(keyPath, key, 0o600), os.WriteFile(certPath, cert, 0o644)); err != nil {
		return tls.Certificate{}, err
	}
	return tls.X509KeyPair(cert, key)
}

func names(leaf *x509.Certificate, hosts []string) bool {
	for _, h := range hosts {
		if leaf.VerifyHostname(h) != nil {
			return false
		}
	}
	return true
}

// selfMade makes a certificate for hosts, names and addresses alike.
func selfMade(hosts []string, now time.Time) (cert, key []byte, err error) {
	private, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return nil, nil, err
	}
	serial, err := rand.Int(rand.Reader, new(big.Int).Lsh(big.NewInt(1), 120))
	if err != nil {
		return nil, nil, err
	}
	template := &x509.Certificate{
		SerialNumber: serial, Subject: pkix.Name{CommonName: "Trunnion, made by this workshop"},
		NotBefore: now.Add(-time.Hour), NotAfter: now.Add(certified),
		KeyUsage: x509.KeyUsageDigitalSignature, ExtKeyUsage: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth}, BasicConstraintsValid: true,
	}
	for _, h := range hosts {
		if ip := net.ParseIP(h); ip != nil {
			template.IPAddresses = append(template.IPAddresses, ip)
		} else {
			template.DNSNames = append(template.DNSNames, h)
		}
	}
	der, err := x509.CreateCertificate(rand.Reader, template, template, &private.PublicKey, private)
	if err != nil {
		return nil, nil, err
	}
	secret, err := x509.MarshalPKCS8PrivateKey(private)
	if err != nil {
		return nil, nil, err
	}
	return pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: der}), pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: secret}), nil
}

// Fingerprint is what a person compares on the other screen: SHA-256 of the
// certificate, in pairs.
func Fingerprint(c tls.Certificate) string {
	if len(c.Certificate) == 0 {
		return ""
	}
	sum := sha256.Sum256(c.Certificate[0])
	text := strings.ToUpper(hex.EncodeToString(sum[:]))
	var pairs []string
	for i := 0; i < len(text); i += 2 {
		pairs = append(pairs, text[i:i+2])
	}
	return strings.Join(pairs, ":")
}

// Hosts are the names and addresses under which this machine is reached when it
// listens on one.
func Hosts(listen string) []string {
	out := []string{"localhost", "127.0.0.1", "::1"}
	add := func(h string) {
		if h != "" && !slices.Contains(out, h) {
			out = append(out, h)
		}
	}
	ip := net.ParseIP(listen)
	if listen != "" && (ip == nil || !ip.IsUnspecified()) {
		add(listen)
	}
	if name, err := os.Hostname(); err == nil && !strings.ContainsAny(name, " _") {
		add(strings.ToLower(name))
		if !strings.Contains(name, ".") {
			add(strings.ToLower(name) + ".local")
		}
	}
	if listen == "" || ip != nil && ip.IsUnspecified() {
		if list, err := net.InterfaceAddrs(); err == nil {
			for _, a := range list {
				if n, ok := a.(*net.IPNet); ok && !n.IP.IsLinkLocalUnicast() {
					add(n.IP.String())
				}
			}
		}
	}
	return out
}
