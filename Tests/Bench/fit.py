#!/usr/bin/env python3
"""Fits the second opinion and the confidence (Source/Core/Decision/*Model.h) to what tarry-accuracy wrote.

    tarry-accuracy --set training --scenes 24 … --features DIR/f.csv     (writes f.csv and f.csv.candidates)
    fit.py DIR/f.csv                   prints the table of families left out of the fit; writes nothing
    fit.py DIR/f.csv --test DEV/f.csv  the same, each family judged on its development scenes: seeds, instruments and
                                       rooms that no fit has seen either
    fit.py DIR/f.csv --write SOURCE    and writes both headers into SOURCE/Core/Decision

Only training seeds are taken: any other row ends it. The second opinion is a conditional logit over candidate lags and
'none of them' (McFadden 1974), the confidence a logistic regression; every weight is bound to the sign that its figure
means. Each family weighs the same, scenes where no lag is right less. NumPy, SciPy.
"""
import argparse
import csv
import pathlib
import subprocess

import numpy as np
from scipy.optimize import minimize

AGAINST = ("response_earlier", "owned_earlier")  # figures that speak against a candidate; all others for it
RIGHT = 0.5  # ms
RIDGE = {"opinion": 0.02, "confidence": 0.003}  # confidence 0.01, 0.003, 0.001, families left out: Brier score .0591 .0592 .0593
# Of a scene in which no lag is right. 0.5 and 0.3, families left out: 0.796 and 0.838 of right lags sure, 9 and 10 of 725
# sure and wrong: such scenes are rarer on a stage than here.
NONE_RIGHT = 0.3


def number(text):
    return float(text) if text else float("nan")


def read(path, sets=("training", "recorded")):
    """Scenes with their candidates' figures (a row each) and the features of the reported lag."""
    candidates = {}
    with open(path + ".candidates") as file:
        for row in csv.DictReader(file):
            candidates.setdefault((row["tier"], row["seed"], row["name"]), []).append(row)  # recordings have no seed
    scenes = []
    with open(path) as file:
        for row in csv.DictReader(file):
            if row["set"] not in sets:
                raise SystemExit(f"{path}: a row of the {row['set']} set, where only {' and '.join(sets)} may be")
            own = candidates.get((row["tier"], row["seed"], row["name"]))
            if not own:
                continue
            truth, lag = number(row["true_lag_ms"]), number(row["lag_ms"])
            lags = np.array([number(c["candidate_ms"]) for c in own])
            figures = [k for k in own[0] if k.startswith("c_")]
            features = [k for k in row if k.startswith("f_")]
            scenes.append({"family": row["family"], "has": truth == truth, "lag": lag, "lags": lags,
                           "x": np.array([[number(c[k]) for k in figures] for c in own]),
                           "right": np.abs(lags - truth) <= RIGHT, "ok": bool(abs(lag - truth) <= RIGHT),
                           "f": np.array([number(row[k]) for k in features])})
    return scenes, [k[2:] for k in figures], [k[2:] for k in features]


def weights(scenes):
    families = [s["family"] for s in scenes]
    count = {f: families.count(f) for f in set(families)}
    return np.array([min(3.0, len(scenes) / len(count) / count[s["family"]]) * (1.0 if s["has"] else NONE_RIGHT) for s in scenes])


def posterior(theta, scene):
    odds = np.exp(np.clip(theta[0] + scene["x"] @ theta[1:], -30, 30))
    return odds / (1 + odds.sum())


def fit_opinion(scenes, figures):
    sign = np.array([-1.0 if f in AGAINST else 1.0 for f in figures])
    w = weights(scenes)

    def loss(theta):
        value, slope = 0.0, np.zeros(len(theta))
        for scene, weight in zip(scenes, w):
            p = posterior(theta, scene)
            chosen = np.where(scene["right"], p, 0)
            if scene["right"].any():
                value -= weight * np.log(max(chosen.sum(), 1e-12))
                pull = weight * (p - chosen / max(chosen.sum(), 1e-12))
            else:
                value -= weight * np.log(max(1 - p.sum(), 1e-12))
                pull = weight * p
            slope[0] += pull.sum()
            slope[1:] += pull @ scene["x"]
        ridge = RIDGE["opinion"]
        slope = slope / len(scenes)
        slope[1:] += 2 * ridge * theta[1:] / len(sign)
        return value / len(scenes) + ridge * (theta[1:] ** 2).mean(), slope

    bounds = [(None, None)] + [(0, None) if s > 0 else (None, 0) for s in sign]
    return minimize(loss, np.concatenate([[-5.0], sign]), jac=True, bounds=bounds, method="L-BFGS-B").x


def features_with(theta, scene, features):
    """The scene's features, the second opinion's among them as `theta` has it (see Confidence.cpp)."""
    p = posterior(theta, scene)
    here = p[np.abs(scene["lags"] - scene["lag"]) <= RIGHT].sum()
    f = scene["f"].copy()
    f[features.index("opinion")] = np.clip(np.log((here + 1e-4) / (1 - here + 1e-4)), -6, 6)
    return f, p


def fit_confidence(scenes, theta, features):
    x = np.array([features_with(theta, s, features)[0] for s in scenes])
    y = np.array([float(s["ok"]) for s in scenes])
    w = weights(scenes)
    low, high = np.quantile(x, 0.005, axis=0), np.quantile(x, 0.995, axis=0)
    x = np.clip(x, low, high)
    mean, deviation = x.mean(0), x.std(0) + 1e-9
    z = (x - mean) / deviation

    def loss(t):
        logit = t[0] + z @ t[1:]
        pull = w * (1 / (1 + np.exp(-logit)) - y)
        return ((w * (np.logaddexp(0, logit) - y * logit)).mean() + RIDGE["confidence"] * (t[1:] ** 2).mean(),
                np.concatenate([[pull.mean()], z.T @ pull / len(y) + 2 * RIDGE["confidence"] * t[1:] / z.shape[1]]))

    t = minimize(loss, np.zeros(z.shape[1] + 1), jac=True, bounds=[(None, None)] + [(0, None)] * z.shape[1],
                 method="L-BFGS-B").x
    slope = t[1:] / deviation
    return {"low": low, "high": high, "slope": slope, "bias": t[0] - (slope * mean).sum()}


def sure(model, f):
    return 1 / (1 + np.exp(-model["bias"] - model["slope"] @ np.clip(f, model["low"], model["high"])))


def calibration(said, right):
    bins = [(said >= k / 10) & (said < (k + 1) / 10 if k < 9 else said <= 1) for k in range(10)]
    return sum(abs(said[b].mean() - right[b].mean()) * b.sum() for b in bins if b.any()) / len(said)


def left_out(scenes, tests, figures, features):
    """Each family of `tests` judged by a fit to all other families of `scenes`."""
    print("| family left out | n | right | sure, of right | sure and wrong | calibration error |\n| --- | --- | --- | --- | --- | --- |")
    everything = []
    for family in sorted({s["family"] for s in tests}):
        rest, own = [s for s in scenes if s["family"] != family], [s for s in tests if s["family"] == family]
        theta = fit_opinion(rest, figures)
        model = fit_confidence(rest, theta, features)
        said = np.array([sure(model, features_with(theta, s, features)[0]) for s in own])
        right, has = np.array([s["ok"] for s in own]), np.array([s["has"] for s in own])
        row(family, said, right, has)
        everything.append((said, right, has))
    row("all", *(np.concatenate(x) for x in zip(*everything)))


def row(name, said, right, has):
    share = lambda x: f"{x.mean():.3f}" if len(x) else ""
    print(f"| {name} | {len(said)} | {share(right[has])} | {share(said[right & has] >= 0.9)} "
          f"| {((said >= 0.9) & ~right).sum()} | {calibration(said, right):.3f} |")


def write(folder, scenes, figures, features, theta, model):
    commit = subprocess.run(["git", "rev-parse", "--short=12", "HEAD"], capture_output=True, text=True, cwd=folder).stdout.strip()
    families = sorted({s["family"] for s in scenes})
    head = (f"// Fitted by Tests/Bench/fit.py to {len(scenes)} scenes of the training set, at commit {commit}.\n"
            f"// Families: {', '.join(families)}. Do not edit: fit again.\n#include <array>\n")
    opinion = "".join(f"    {v:.9g}, // {n}\n" for n, v in zip(figures, theta[1:]))
    terms = "".join(f"    {{{a:.9g}, {b:.9g}, {c:.9g}}}, // {n}\n"
                    for n, a, b, c in zip(features, model["low"], model["high"], model["slope"]))
    (folder / "SecondOpinionModel.h").write_text(
        f"#pragma once\n{head}\nnamespace tarry::second_opinion_model\n{{\ninline constexpr double bias = {theta[0]:.9g};\n"
        "/// Weights of a candidate's figures in its logit, in the order of Candidate::names.\n"
        f"inline constexpr std::array<double, {len(figures)}> weights{{\n{opinion}}};\n}} // namespace tarry::second_opinion_model\n")
    (folder / "ConfidenceModel.h").write_text(
        f"#pragma once\n{head}\nnamespace tarry::confidence_model\n{{\n"
        "/// Adds weight * clamp(x, low, high) to the logit of P(lag within 0.5 ms). No weight is below 0.\n"
        "struct Term\n{\n    double low, high, weight;\n};\n\n"
        f"inline constexpr double bias = {model['bias']:.9g};\n/// In the order of Features::names.\n"
        f"inline constexpr std::array<Term, {len(features)}> terms{{{{\n{terms}}}}};\n}} // namespace tarry::confidence_model\n")
    subprocess.run(["clang-format", "-i", folder / "SecondOpinionModel.h", folder / "ConfidenceModel.h"], check=True)


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("features")
    parser.add_argument("--test", metavar="DEVELOPMENT")
    parser.add_argument("--write", type=pathlib.Path, metavar="SOURCE")
    arguments = parser.parse_args()
    scenes, figures, features = read(arguments.features)
    tests = read(arguments.test, ("development", "recorded"))[0] if arguments.test else scenes
    left_out(scenes, tests, figures, features)
    theta = fit_opinion(scenes, figures)
    model = fit_confidence(scenes, theta, features)
    for name, value in list(zip(figures, theta[1:])) + list(zip(features, model["slope"])):
        print(f"{name:18s} {value:+.3f}")
    if arguments.write:
        write(arguments.write / "Core" / "Decision", scenes, figures, features, theta, model)


main()
