#!/bin/sh
# packages.sh ARCHITECTURE FOLDER: Debian's libraries for a foreign machine, unpacked into FOLDER.
# With lists and cache of its own: apt and dpkg of this machine are left as they are.
set -eu
arch=$1 folder=$2
[ -f "$folder/done" ] && exit 0
state=$folder/apt
mkdir -p "$state/lists/partial" "$state/cache/archives/partial" "$state/debs"
: >"$state/status"
suite=$(. /etc/os-release && echo "$VERSION_CODENAME")
echo "deb [signed-by=/usr/share/keyrings/debian-archive-keyring.gpg] http://deb.debian.org/debian $suite main" \
    >"$state/sources.list"
own() {
    apt-get -q -o APT::Architecture="$arch" -o APT::Architectures="$arch" \
        -o Dir::Etc::sourcelist="$state/sources.list" -o Dir::Etc::sourceparts=/dev/null \
        -o Dir::State="$state" -o Dir::State::Lists="$state/lists" \
        -o Dir::State::status="$state/status" -o Dir::Cache="$state/cache" "$@"
}
own update
(cd "$state/debs" && own download libgsl-dev libgsl27 libgslcblas0 libyaml-dev libyaml-0-2 \
    libudunits2-dev libudunits2-0 libexpat1 libjansson-dev libjansson4 libcmocka-dev libcmocka0 \
    libc6)
for deb in "$state"/debs/*.deb; do dpkg-deb -x "$deb" "$folder"; done
rm -rf "$state"
touch "$folder/done"
