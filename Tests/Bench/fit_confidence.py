#!/usr/bin/python3
"""Fits the confidence: P(lag within 0.5 ms) from the features of a report, by logistic regression.

    tarry-accuracy --set training --scenes 100 --features features.csv
    fit_confidence.py features.csv [more.csv …] [--columns a,b,c] [--header Source/Core/ConfidenceModel.h]

Reads rows of tier, seed, right (1 or 0), confidence, then features; rows of judging seeds are refused. Prints how well
the model keeps its word on scenes it was not fitted to (cross-validation), and writes it as a C++ header with where it
comes from. Features are clipped to what was seen and standardised, so that nothing unseen is extrapolated. numpy only.
"""
import argparse
import csv
import datetime
import pathlib
import subprocess
import sys

import numpy as np

FIRST_JUDGING_SEED = 600_000  # Tiers.cpp, firstSeed
NOT_FEATURES = ("tier", "seed", "right", "confidence")


def arguments():
    parser = argparse.ArgumentParser(description=__doc__.split("\n\n")[0])
    parser.add_argument("features", nargs="+", type=pathlib.Path, help="CSV files of tarry-accuracy --features")
    parser.add_argument("--columns", help="the features to use, by comma; default all")
    parser.add_argument("--leave-out", default="real-a,real-neighbours-a,real-b,real-neighbours-b,bass-drum",
                        help="tiers that are not fitted to, by comma; real recordings have no training seeds")
    parser.add_argument("--ridge", type=float, default=1.0, help="penalty on the squared standardised weights")
    parser.add_argument("--folds", type=int, default=10)
    parser.add_argument("--header", type=pathlib.Path, help="where to write the model")
    return parser.parse_args()


def read(files, left_out):
    rows, names = [], None
    for file in files:
        with open(file, newline="") as stream:
            reader = csv.DictReader(stream)
            here = [name for name in reader.fieldnames if name not in NOT_FEATURES]
            if names not in (None, here):
                sys.exit(f"{file}: its columns differ from those of {files[0]}; dump both with the same build")
            names = here
            rows += [row for row in reader if row["tier"] not in left_out]
    judging = [row for row in rows if int(row["seed"]) >= FIRST_JUDGING_SEED]
    if judging:
        sys.exit(f"{len(judging)} rows have judging seeds; fit to training seeds only")
    if not rows:
        sys.exit("no rows to fit to")
    return rows, names


def standardiser(x):
    low, high = x.min(0), x.max(0)
    mean, deviation = x.mean(0), x.std(0)
    deviation[deviation < 1e-9 * np.maximum(1.0, np.abs(mean))] = 1.0
    return low, high, mean, deviation


def standardise(x, scale):
    low, high, mean, deviation = scale
    return (np.clip(x, low, high) - mean) / deviation


def fit(x, y, ridge):
    """Weights, the bias first: iteratively reweighted least squares (Newton's method). The bias is not penalised.

    Also their covariance, the inverse of the Hessian."""
    design = np.column_stack([np.ones(len(x)), x])
    penalty = ridge * np.eye(design.shape[1])
    penalty[0, 0] = 1e-6
    weights = np.zeros(design.shape[1])
    for _ in range(100):
        p = 1 / (1 + np.exp(-design @ weights))
        slope = design.T @ (y - p) - penalty @ weights
        hessian = design.T @ (design * (p * (1 - p))[:, None]) + penalty
        step = np.linalg.solve(hessian, slope)
        weights += step * min(1.0, 2.0 / max(1e-12, np.abs(step).max()))  # never far at once
        if np.abs(step).max() < 1e-9:
            return weights, np.linalg.inv(hessian)
    sys.exit("the fit does not settle; raise --ridge")


def predict(weights, x):
    return 1 / (1 + np.exp(-(weights[0] + x @ weights[1:])))


def cross_validate(x, y, tiers, folds, ridge):
    """Each row's probability from a model that has not seen it; every fold holds its share of each tier."""
    order = np.random.default_rng(1).permutation(len(y))
    fold = np.empty(len(y), int)
    for tier in np.unique(tiers):
        members = order[tiers[order] == tier]
        fold[members] = np.arange(len(members)) % folds
    said = np.empty(len(y))
    for k in range(folds):
        train, test = fold != k, fold == k
        scale = standardiser(x[train])
        weights, _ = fit(standardise(x[train], scale), y[train], ridge)
        said[test] = predict(weights, standardise(x[test], scale))
    return said


def expected_calibration_error(said, y):
    bins = np.minimum(9, (said * 10).astype(int))
    return sum(abs(said[bins == b].mean() - y[bins == b].mean()) * (bins == b).mean() for b in np.unique(bins))


def show(said, y, tiers):
    bins = np.minimum(9, (said * 10).astype(int))
    wrong = int(np.sum((said >= 0.9) & (y == 0)))
    print(f"\nCross-validated, {len(y)} scenes: expected calibration error {expected_calibration_error(said, y):.3f}, "
          f"Brier score {np.mean((said - y) ** 2):.4f}, wrong with 0.9 or more: {wrong}")
    print("\n| said | n | mean said | right |\n| --- | --- | --- | --- |")
    for b in np.unique(bins):
        here = bins == b
        print(f"| {b / 10:.1f}-{(b + 1) / 10:.1f} | {here.sum()} | {said[here].mean():.3f} | {y[here].mean():.3f} |")
    print("\n| tier | n | mean said | right | wrong with 0.9 or more |\n| --- | --- | --- | --- | --- |")
    for tier in dict.fromkeys(tiers):
        here = tiers == tier
        print(f"| {tier} | {here.sum()} | {said[here].mean():.3f} | {y[here].mean():.3f} | "
              f"{int(np.sum(here & (said >= 0.9) & (y == 0)))} |")


def git_hash():
    here = pathlib.Path(__file__).parent
    run = lambda *words: subprocess.run(["git", *words], cwd=here, capture_output=True, text=True).stdout.strip()
    changed = " with changes not committed" if run("status", "--porcelain", "--untracked-files=no") else ""
    return (run("rev-parse", "--short=12", "HEAD") or "unknown") + changed


def wrap(words, width=114):
    lines = [""]
    for word in words.split():
        if len(lines[-1]) + len(word) >= width:
            lines.append("")
        lines[-1] += (" " if lines[-1] else "") + word
    return "\n".join("// " + line for line in lines)


def write_header(file, names, scale, weights, rows, y, said):
    seeds = [int(row["seed"]) for row in rows]
    tiers = ", ".join(dict.fromkeys(row["tier"] for row in rows))
    ece, brier = expected_calibration_error(said, y), np.mean((said - y) ** 2)
    source = (f"Fitted {datetime.date.today().isoformat()} by Tests/Bench/fit_confidence.py to {len(rows)} scenes "
              f"({int(y.sum())} of them right to 0.5 ms), training seeds {min(seeds)} to {max(seeds)}, at commit "
              f"{git_hash()}. Tiers: {tiers}. Cross-validated: expected "
              f"calibration error {ece:.3f}, Brier score {brier:.4f}.")
    terms = "\n".join(f'    {{"{name}", {low:.9g}, {high:.9g}, {mean:.9g}, {deviation:.9g}, {weight:.9g}}},'
                      for name, low, high, mean, deviation, weight in zip(names, *scale, weights[1:]))
    file.write_text(f"""#pragma once
{wrap(source)}
// Do not edit: fit again.
#include <array>
#include <string_view>

// clang-format off
namespace tarry::confidence_model
{{
/// Adds weight * (clamp(x, low, high) - mean) / deviation to the logit of P(lag within 0.5 ms), x the feature's value.
struct Term
{{
    std::string_view feature;
    double low, high, mean, deviation, weight;
}};

inline constexpr double bias = {weights[0]:.9g};
inline constexpr std::array<Term, {len(names)}> terms{{{{
{terms}
}}}};
}} // namespace tarry::confidence_model
// clang-format on
""")
    print(f"\nWritten: {file}")


def main():
    options = arguments()
    rows, names = read(options.features, options.leave_out.split(","))
    if options.columns:
        unknown = [name for name in options.columns.split(",") if name not in names]
        if unknown:
            sys.exit(f"no column is called {', '.join(unknown)}; there are {', '.join(names)}")
        names = options.columns.split(",")
    x = np.array([[float(row[name]) for name in names] for row in rows])
    y = np.array([float(row["right"]) for row in rows])
    tiers = np.array([row["tier"] for row in rows])
    if not np.isfinite(x).all():
        sys.exit(f"not a number: {', '.join(n for n, good in zip(names, np.isfinite(x).all(0)) if not good)}")

    varies = np.ptp(x, axis=0) > 0
    if not varies.all():
        print(f"left out, the same in every scene: {', '.join(n for n, v in zip(names, varies) if not v)}")
        names, x = [n for n, v in zip(names, varies) if v], x[:, varies]

    scale = standardiser(x)
    weights, covariance = fit(standardise(x, scale), y, options.ridge)
    print(f"{len(rows)} scenes, {int(y.sum())} right\n\n| feature | mean | deviation | weight | its sd |\n"
          "| --- | --- | --- | --- | --- |")
    print(f"| (bias) | | | {weights[0]:+.3f} | {covariance[0, 0] ** 0.5:.3f} |")
    for i, name in enumerate(names):
        print(f"| {name} | {scale[2][i]:.3f} | {scale[3][i]:.3f} | {weights[i + 1]:+.3f} | "
              f"{covariance[i + 1, i + 1] ** 0.5:.3f} |")
    said = cross_validate(x, y, tiers, options.folds, options.ridge)
    show(said, y, tiers)
    if options.header:
        write_header(options.header, names, scale, weights, rows, y, said)


if __name__ == "__main__":
    main()
