#!/bin/sh
# pictures.sh TOOL - draws the pictures of this folder's README again, but for page.png, which is a shot
# of the page (tests/page/shot.js), and report.png, the first page of the printed report.
set -eu
tool=$(realpath "$1")
cd "$(dirname "$0")"
draw() { "$tool" "$@" --quiet >/dev/null; }
draw run daily.yaml --plot daily.png
draw run daily.yaml --samples 512 --pose pose.png
draw compare clearance-enough.yaml clearance-pressed.yaml clearance-faults.yaml --plot compare.png
draw map clearance-enough.yaml --vary stow.point.elevation=-19.9deg:-10deg \
    --vary today.supply.main.voltage=9V:15V --plot map.png
draw margin daily.yaml --samples 500 --plot margin.png
draw offset daily.yaml --plot offset.png
draw feed foam-trailer.yaml --plot feed.png
draw window weak-magnet.yaml --axis rotation --plot window.png
draw speed daily.yaml --plot speed.png
draw causes trouble-call.yaml --plot causes.png
draw card daily.yaml --plot card.png
draw fit daily.yaml stopwatch.csv --key elevation.motor.no_load_speed --key elevation.gear.efficiency \
    --bias --plot fit.png
