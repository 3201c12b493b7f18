package scene

import "strings"

// SheetLink before a sheet number makes a link inside the set.
const SheetLink = "sheet:"

// Followable reports whether a link that is not to a sheet leads where a
// person may be sent: within the site, within the page, or to the web.
func Followable(link string) bool {
	lower := strings.ToLower(link)
	return strings.HasPrefix(lower, "https://") || strings.HasPrefix(lower, "http://") ||
		strings.HasPrefix(link, "#") || strings.HasPrefix(link, "/") && !strings.HasPrefix(link, "//")
}
