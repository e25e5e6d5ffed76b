package people

import (
	"net/netip"
	"strings"

	"golang.org/x/text/unicode/norm"
)

// What a login is at most, in characters.
const (
	longestLogin  = 254 // an e-mail address: RFC 5321, section 4.5.3.1.3, less the angle brackets
	longestName   = 64
	longestLabel  = 63 // RFC 1035, section 2.3.4
	loginExpected = `the login: an e-mail address or a name of letters from a to z, digits, dots and hyphens is expected, for example "r.dunmoor"`
)

// tidy brings a login as it was typed to the form that is compared: NFKC, lower
// case, without spaces around it.
func tidy(typed string) string {
	typed = strings.ToValidUTF8(typed[:min(len(typed), 4*longestLogin)], "\uFFFD")
	return strings.TrimSpace(strings.ToLower(norm.NFKC.String(typed)))
}

// NormalLogin returns the form in which a login is kept: lower case, an e-mail
// address or a name of letters, digits, dots and hyphens. It is an
// archive.ErrRefused where it is neither.
func NormalLogin(typed string) (string, error) {
	login := tidy(typed)
	if len(typed) > 4*longestLogin || !loginForm(login) {
		return "", refused("%s", loginExpected)
	}
	return login, nil
}

func loginForm(login string) bool {
	local, domain, isMail := strings.Cut(login, "@")
	if isMail {
		return mailForm(local, domain) && len(login) <= longestLogin
	}
	return len(login) >= 2 && len(login) <= longestName && bounded(login) && only(login, ".-")
}

// mailForm follows the "valid e-mail address" of the HTML standard (WHATWG,
// "HTML", section 4.10.5.1.5), so that what a page's form takes is taken here.
func mailForm(local, domain string) bool {
	if len(local) < 1 || len(local) > longestName || !only(local, ".!#$%&'*+/=?^_`{|}~-") {
		return false
	}
	for label := range strings.SplitSeq(domain, ".") {
		if len(label) < 1 || len(label) > longestLabel || !bounded(label) || !only(label, "-") {
			return false
		}
	}
	return true
}

// only reports whether a text has letters, digits and some signs alone.
func only(text, signs string) bool {
	for i := range len(text) {
		if !alphanumeric(text[i]) && strings.IndexByte(signs, text[i]) < 0 {
			return false
		}
	}
	return true
}

// bounded reports whether a text begins and ends with a letter or a digit.
func bounded(text string) bool {
	return alphanumeric(text[0]) && alphanumeric(text[len(text)-1])
}

func alphanumeric(c byte) bool { return c >= 'a' && c <= 'z' || c >= '0' && c <= '9' }

// origin returns what tries are counted by for an address, with or without a
// port: an IPv4 address, or the 64 bits of an IPv6 address that belong to one
// household.
func origin(from string) string {
	ip, err := netip.ParseAddr(from)
	if err != nil {
		port, err := netip.ParseAddrPort(from)
		if err != nil {
			return from[:min(len(from), 100)]
		}
		ip = port.Addr()
	}
	ip = ip.Unmap().WithZone("")
	if ip.Is4() {
		return ip.String()
	}
	return netip.PrefixFrom(ip, 64).Masked().String()
}
