# truck.py - a truck in a notebook: cell by cell, each begins with # %%. Also runs as a script:
#
#   PYTHONPATH=/usr/local/lib/python3/dist-packages python3 truck.py daily.yaml [PICTURE.png]
#
# The figures are those of the library, in SI; pictures are drawn where matplotlib is there.

# %% the truck, and one day of it
import math
import sys

import slewtime
from slewtime import ELEVATION, ROTATION

path = sys.argv[1] if len(sys.argv) > 1 else "/usr/local/share/slewtime/examples/daily.yaml"
picture = sys.argv[2] if len(sys.argv) > 2 else "truck.png"
truck = slewtime.Scenario.read(path)
run = truck.run()
print(truck.title)
for name, part in (("stow", run.stow), ("deploy", run.deploy)):
    print(f"{name}: says {part.says}, elevation {math.degrees(part.angle[ELEVATION]):.2f} deg")

# %% the same truck with a weak battery
weak = truck.copy()
weak.set("supply.main.voltage", "11.8 V", layer="today")
weak_run = weak.run()
print(f"at 11.8 V: says {weak_run.deploy.says}, "
      f"elevation {math.degrees(weak_run.deploy.angle[ELEVATION]):.2f} deg")

# %% what if the operator cancels after six seconds, and drives it down by hand
machine = slewtime.Machine(truck)
machine.stow()
for event in machine.events(6):
    pass
machine.cancel()
machine.jog("elevation", -1)
for event in machine.events(9):
    pass
print(f"by hand: elevation {math.degrees(machine.look().angle[ELEVATION]):.2f} deg")

# %% which deploy seconds land inside the target, over all trucks and days
offset = truck.offset(samples=512)
best = offset.told[0]
print(f"best: elevation {best.seconds[ELEVATION]:g} s, inside in {best.inside.value:.1%} of the days")

# %% a key that is wrong says so
try:
    truck.set("supply.main.voltage", "12 m")
except slewtime.Error as error:
    print(f"refused: {error.key}: {error.message}")

# %% both days against time
try:
    import matplotlib
except ImportError:
    print("no picture: matplotlib is not installed (python3-matplotlib)")
    sys.exit(0)
matplotlib.use("Agg")
from matplotlib import pyplot  # noqa: E402

figure, (angles, volts) = pyplot.subplots(2, 1, sharex=True, figsize=(9, 6))
for name, scenario, style in (("as it is", truck, "-"), ("at 11.8 V", weak, "--")):
    trace = scenario.trace(interval=0.02)
    for axis, word, color in ((ROTATION, "rotation", "C0"), (ELEVATION, "elevation", "C1")):
        angles.plot(trace["time"], [math.degrees(a) for a in trace["angle"][:, axis]], style,
                    color=color, label=f"{word}, {name}")
    volts.plot(trace["time"], trace["voltage"], style, color="C2", label=name)
angles.set_ylabel("angle, deg")
volts.set_ylabel("at the controller, V")
volts.set_xlabel("time, s")
angles.legend(loc="upper center", ncol=2)
volts.legend(loc="center right")
figure.suptitle(truck.title)
figure.tight_layout()
figure.savefig(picture)
print(f"the picture is in {picture}")
