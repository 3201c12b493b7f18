#!/bin/sh
# Gets the programs that tests compare with. On Debian as root it installs what
# is missing; elsewhere it names what is missing and what is then skipped. With
# LEGWORK_REQUIRE_ALL set, anything still missing is an error.
#
#	internal/setup.sh         what make test needs
#	internal/setup.sh race    the C compiler that race detection needs, too
set -eu

# program, Debian package, what it judges
wanted='
cbc           coinor-cbc      layouts of branches against a mixed-integer solver
chromium      chromium        pages in a browser
ngspice       ngspice         voltages of networks
pg_ctl        postgresql      the store on PostgreSQL
pdftotext     poppler-utils   text, fonts and pictures of PDFs
qpdf          qpdf            the structure of PDFs
rsvg-convert  librsvg2-bin    pictures of SVGs
'
if [ "${1:-}" = race ]; then
	wanted="$wanted
gcc           build-essential race detection
"
fi

# Debian keeps the programs of PostgreSQL's server off the search path.
for bin in /usr/lib/postgresql/*/bin; do
	PATH="$PATH:$bin"
done

missing() {
	echo "$wanted" | while read -r program package judges; do
		if [ -n "$program" ] && ! command -v "$program" >/dev/null 2>&1; then
			echo "$program $package $judges"
		fi
	done
}

if ! command -v go >/dev/null 2>&1; then
	echo "setup: there is no go command; install Go 1.26 or newer from https://go.dev/dl" >&2
	exit 1
fi

lacking=$(missing)
if [ -n "$lacking" ] && [ -f /etc/debian_version ] && [ "$(id -u)" = 0 ]; then
	packages=$(echo "$lacking" | awk '{print $2}')
	echo "setup: installing" $packages
	export DEBIAN_FRONTEND=noninteractive
	# A failure shows below as what is still missing.
	{ apt-get update -qq && apt-get install -y -qq --no-install-recommends $packages; } >/dev/null ||
		echo "setup: apt-get could not install all of it" >&2
	lacking=$(missing)
fi

[ -n "$lacking" ] || exit 0
echo "$lacking" | while read -r program package judges; do
	echo "setup: $program is not installed (Debian package $package); skipped without it: $judges"
done
[ -z "${LEGWORK_REQUIRE_ALL:-}" ] || {
	echo "setup: LEGWORK_REQUIRE_ALL is set, so nothing may be skipped" >&2
	exit 1
}
