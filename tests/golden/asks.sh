#!/bin/sh
# Prints what is asked on the examples, each answer a line: NAME<tab>ARGUMENT<tab>ARGUMENT... From the
# top folder. write.sh writes the answers down; `make schemas` learns from those in JSON.
set -eu

# ask NAME ARGUMENT...: one answer in text; tell NAME ARGUMENT...: the same in JSON, CSV and a picture
ask() {
    name=$1
    shift
    printf '%s' "$name"
    for word; do printf '\t%s' "$word"; done
    echo
}
tell() {
    answer=$1
    shift
    ask "$answer/text" "$@"
    ask "$answer/json" "$@" --json
    ask "$answer/csv" "$@" --csv
    ask "$answer/picture" "$@" --plot picture.svg
}

for scenario in examples/*.yaml; do
    case $scenario in */seen-* | */wiring-*) continue ;; esac
    example=$(basename "$scenario" .yaml)
    tell "run/$example" run "$scenario"
    ask "run/$example/pose" run "$scenario" --pose picture.svg
    ask "run/$example/trace" run "$scenario" --trace trace.csv
    ask "run/$example/letters" run "$scenario" --plot -
    ask "run/$example/pose-letters" run "$scenario" --pose -
    tell "run/$example/stow" run "$scenario" --only stow
    tell "compare/$example" compare "$scenario" --beside 'weak battery' --today 'supply.main.voltage=11.4 V' \
        --beside 'dead sensor' --today elevation.home.present=no
    ask "compare/$example/pose" compare "$scenario" --beside higher --set stow.tolerance=1deg --pose picture.svg
    tell "offset/$example" offset "$scenario" --samples 200
    tell "plan/$example" plan "$scenario" --samples 64
    tell "margin/$example" margin "$scenario" --samples 100
    tell "map/$example" map "$scenario" --vary today.supply.main.voltage=9V:15V:16
    tell "map/$example/two" map "$scenario" --vary stow.point.elevation=-16deg:-4deg:10 \
        --vary today.supply.main.voltage=9V:15V:10
    tell "feed/$example" feed "$scenario"
    tell "speed/$example" speed "$scenario"
    tell "nozzle/$example" nozzle "$scenario"
    tell "window/$example" window "$scenario"
    tell "card/$example" card "$scenario" --samples 200
    tell "causes/$example" causes "$scenario" --samples 20
    ask "check/$example/text" check "$scenario"
    ask "check/$example/json" check "$scenario" --json
done

for command in feed speed window; do
    tell "$command/wiring-on-paper" $command examples/wiring-on-paper.yaml
done

for command in run plan compare offset margin map feed speed nozzle window fit card causes check keys; do
    ask "help/$command/text" help $command
done
ask help/all/text --help
ask keys/all/text keys
ask keys/supply/text keys supply
ask keys/all/json keys --json
daily=examples/daily.yaml
ask run/fan/pose run $daily --samples 64 --pose picture.svg
ask run/fan/pose-letters run $daily --samples 64 --pose -
tell run/deploy run examples/warm-stow-cold-deploy.yaml --only deploy
tell compare/clearance compare examples/clearance-enough.yaml examples/clearance-pressed.yaml \
    examples/clearance-faults.yaml
tell offset/random offset $daily --samples 300 --random --wanted 0.99
tell offset/later offset $daily --samples 200 --set 'deploy.target.elevation.low=47 deg'
tell margin/rotation margin $daily --samples 100 --axis rotation
tell feed/drop feed $daily --measured-drop 0.6V --measured-current 12A
tell feed/voltage feed $daily --measured-voltage 11.2V --axis elevation
tell feed/class-2 feed examples/fireboat-24v.yaml --class 2 --drop 5%
tell feed/load feed $daily --set 'supply.shared_load=30 A'
tell feed/deploy feed examples/warm-stow-cold-deploy.yaml --only deploy
tell speed/varied speed examples/foam-trailer.yaml --vary supply.main.voltage=6V:15V:18 --at elevation=0deg
tell nozzle/tip nozzle --tip 1.75in --pressure 80psi
tell nozzle/flow nozzle examples/reaction-arm.yaml --flow 1000gpm --pressure 100psi
tell window/sense window examples/weak-magnet.yaml --axis rotation --sense 12V,3.3kohm,820ohm
tell window/gap window examples/weak-magnet.yaml --axis rotation --tolerance gap=0.3mm,remanence=3%
tell card/filled card $daily --readings examples/daily-card.csv
tell fit/five fit $daily examples/stopwatch.csv --key elevation.motor.no_load_speed \
    --key elevation.gear.efficiency --key supply.feed.joint_resistance --bias
tell fit/alike fit $daily examples/stopwatch.csv --key elevation.motor.no_load_speed --key elevation.gear.ratio
tell fit/robust fit examples/story.yaml examples/story-times.csv --key supply.feed.joint_resistance --robust
for seen in falls-short home-not-found nothing-fits; do
    tell causes/seen-$seen causes examples/trouble-call.yaml --seen examples/seen-$seen.yaml --samples 40
done
tell causes/seen-story causes examples/story.yaml --seen examples/seen-story.yaml --samples 40
ask causes/about/text causes examples/trouble-call.yaml --samples 40 --about 'corroded connection in the feed'
ask causes/draw/text causes examples/trouble-call.yaml --samples 40 --draw 7
ask check/doubts/json check $daily --set 'rotation.motor.inertia=1e-3 kg.m2' --json
for example in story trouble-call weak-magnet; do
    ask fit/times-$example/json fit examples/$example.yaml examples/story-times.csv \
        --key elevation.motor.no_load_speed --json
done
