"""The work of vectorisedBench.ts once more, by numpy and scipy on whole arrays at once. Reads models as JSON, answers JSON."""
import json
import sys
import time

import numpy as np
import scipy
from scipy.special import lambertw

given = json.load(sys.stdin)
fields = ("photocurrent", "saturationCurrent", "seriesResistance", "shuntResistance", "thermalVoltage")
light, dark, rs, shunt, thermal = (
    np.array([model[name] for model in given["models"]])[:, None] for name in fields
)
voltage = np.array(given["voltages"])


def currents():
    # I(V) of the single-diode model by the Lambert W function: Jain and Kapoor 2004, from memory.
    divider = 1 + rs / shunt
    inner = rs * dark / (thermal * divider) * np.exp((rs * (light + dark) + voltage) / (thermal * divider))
    return (light + dark - voltage / shunt) / divider - thermal / rs * lambertw(inner).real


current = currents()
irradiance, temperature = (np.array(given[name])[:, None] for name in ("irradiances", "temperatures"))
alpha, beta, c_rs, kappa = (given["coefficients"][name] for name in ("alpha", "beta", "rs", "kappa"))


def translations():
    # IEC 60891 (2009), procedure 1, to 1000 W/m2 and 25 degC.
    warmer = 25 - temperature
    shift = current[:, :1] * (1000 / irradiance - 1) + alpha * warmer
    moved = current + shift
    return moved, voltage - c_rs * shift - kappa * moved * warmer + beta * warmer


def per_second(task):
    task()
    done, start = 0, time.process_time()
    while time.process_time() - start < 0.7:
        task()
        done += len(current)
    return done / (time.process_time() - start)


print(
    json.dumps(
        {
            "scipy": scipy.__version__,
            "curves": per_second(currents),
            "translations": per_second(translations),
            "currents": current[0].tolist(),
            "translated": translations()[1][0].tolist(),
        }
    )
)
