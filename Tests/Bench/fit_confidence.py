#!/usr/bin/python3
"""Fits the confidence, P(lag within 0.5 ms), from the features of a report, and tells how far to trust the fit.

    tarry-accuracy --set training --scenes 60 --features training.csv
    tarry-accuracy --set development --scenes 30 --features development.csv
    fit_confidence.py training.csv --test development.csv                 # the fit, and how it does on other seeds
    fit_confidence.py training.csv --test development.csv --each-left-out # each family judged without it
    fit_confidence.py training.csv --leave-out sections --header Source/Core/Decision/ConfidenceModel.h

Fits to training rows alone: anything else is refused, as are judging rows anywhere but in --judge. Weights are kept to
the signs that the features' meanings give them (--signs name=+,name=-): one that wants the other sign becomes 0.
Features are clipped to what was seen and standardised, so that nothing unseen is extrapolated. Every family counts the
same, however many scenes it has. numpy only.
"""
import argparse
import csv
import datetime
import pathlib
import subprocess
import sys

import numpy as np

FIRST_DEVELOPMENT_SEED = 600_000  # Tier.cpp
FIRST_JUDGING_SEED = 1_100_000
SURE = 0.9


def arguments():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("training", nargs="+", type=pathlib.Path, help="CSV files of tarry-accuracy --features")
    parser.add_argument("--test", nargs="+", type=pathlib.Path, default=[], help="development rows (and recordings)")
    parser.add_argument("--judge", nargs="+", type=pathlib.Path, default=[], help="judging rows: once, for the table")
    parser.add_argument("--columns", help="the features to use, by comma; default all")
    parser.add_argument("--signs", default="", help="name=+ or name=-, by comma: the sign that a weight may have")
    parser.add_argument("--leave-out", default="", help="families that are not fitted to, by comma")
    parser.add_argument("--each-left-out", action="store_true", help="fit once for each family, without it")
    parser.add_argument("--ridge", type=float, default=1.0, help="penalty on the squared standardised weights")
    parser.add_argument("--header", type=pathlib.Path, help="where to write the model")
    return parser.parse_args()


class Rows:
    """Features x, right y (1, 0), weights so that each family counts the same, and what the scenes are."""

    def __init__(self, rows, names):
        self.rows, self.names = rows, names
        self.x = np.array([[float(row["f_" + name]) for name in names] for row in rows]).reshape(len(rows), len(names))
        self.y = np.array([float(row["right"]) for row in rows])
        self.family = np.array([row["family"] for row in rows])
        self.tier = np.array([row["tier"] for row in rows])
        self.said = np.array([float(row["confidence"]) for row in rows])
        bad = [name for name, good in zip(names, np.isfinite(self.x).all(0)) if not good]
        if bad:
            sys.exit(f"not a number: {', '.join(bad)}")
        counts = {family: np.sum(self.family == family) for family in np.unique(self.family)}
        self.weight = np.array([len(rows) / len(counts) / counts[family] for family in self.family])

    def but(self, families):
        return self.where(~np.isin(self.family, families))

    def where(self, mask):
        return Rows([row for row, keep in zip(self.rows, mask) if keep], self.names)


def set_of(row):
    seed = int(row["seed"])
    by_seed = ("recorded" if seed == 0 else "training" if seed < FIRST_DEVELOPMENT_SEED
               else "development" if seed < FIRST_JUDGING_SEED else "judging")
    if by_seed != row["set"]:
        sys.exit(f"{row['tier']} {seed}: is said to be of {row['set']}, but its seed is of {by_seed}")
    return by_seed


def read(files, allowed, purpose):
    rows, names = [], None
    for file in files:
        with open(file, newline="") as stream:
            reader = csv.DictReader(stream)
            here = [name[2:] for name in reader.fieldnames if name.startswith("f_")]
            if names not in (None, here):
                sys.exit(f"{file}: its features differ from those of {files[0]}; dump both with the same build")
            names = here
            rows += list(reader)
    wrong = [row for row in rows if set_of(row) not in allowed]
    if wrong:
        sys.exit(f"{len(wrong)} rows, among them {wrong[0]['tier']} {wrong[0]['seed']}, are of {set_of(wrong[0])}: "
                 f"{purpose} takes {' and '.join(allowed)} rows only")
    # Bass drums' and grade B references are not good to 0.5 ms.
    rows = [row for row in rows if row["tier"] != "bass-drum" and not row["tier"].endswith("-b")]
    return rows, names


def standardiser(x):
    low, high = x.min(0), x.max(0)
    mean, deviation = x.mean(0), x.std(0)
    deviation[deviation < 1e-9 * np.maximum(1.0, np.abs(mean))] = 1.0
    return low, high, mean, deviation


def standardise(x, scale):
    low, high, mean, deviation = scale
    return (np.clip(x, low, high) - mean) / deviation


def newton(x, y, weight, ridge):
    """Weights, the bias first: iteratively reweighted least squares. The bias is not penalised."""
    design = np.column_stack([np.ones(len(x)), x])
    penalty = ridge * np.eye(design.shape[1])
    penalty[0, 0] = 1e-6
    weights = np.zeros(design.shape[1])
    for _ in range(200):
        p = 1 / (1 + np.exp(-np.clip(design @ weights, -40, 40)))
        slope = design.T @ (weight * (y - p)) - penalty @ weights
        hessian = design.T @ (design * (weight * p * (1 - p))[:, None]) + penalty
        step = np.linalg.solve(hessian, slope)
        weights += step * min(1.0, 2.0 / max(1e-12, np.abs(step).max()))  # never far at once
        if np.abs(step).max() < 1e-9:
            return weights, np.linalg.inv(hessian)
    sys.exit("the fit does not settle; raise --ridge")


class Model:
    """A logistic model; weights that want the wrong sign are left out one by one, the worst first."""

    def __init__(self, rows, ridge, signs):
        self.scale = standardiser(rows.x)
        z = standardise(rows.x, self.scale)
        use = np.ptp(rows.x, axis=0) > 0
        wanted = np.array([signs.get(name, 0) for name in rows.names])
        while True:
            fitted, covariance = newton(z[:, use], rows.y, rows.weight, ridge)
            self.weights = np.zeros(len(rows.names) + 1)
            self.weights[0] = fitted[0]
            self.weights[1:][use] = fitted[1:]
            self.deviation = np.zeros(len(rows.names) + 1)
            self.deviation[np.concatenate([[True], use])] = np.sqrt(np.diag(covariance))
            against = self.weights[1:] * wanted
            if against.min(initial=0.0) >= 0.0:
                return
            use[np.argmin(against)] = False

    def says(self, rows):
        return 1 / (1 + np.exp(-(self.weights[0] + standardise(rows.x, self.scale) @ self.weights[1:])))


def calibration_error(said, y):
    bins = np.minimum(9, (said * 10).astype(int))
    return sum(abs(said[bins == b].mean() - y[bins == b].mean()) * (bins == b).mean() for b in np.unique(bins))


def line(name, said, rows, here):
    y, s = rows.y[here], said[here]
    sure = s >= SURE
    return (f"| {name} | {here.sum()} | {y.mean():.3f} | {s.mean():.3f} | {calibration_error(s, y):.3f} | "
            f"{np.mean((s - y) ** 2):.4f} | {np.mean(sure):.2f} | {int(np.sum(sure & (y == 0)))} "
            f"({100 * np.mean(sure & (y == 0)):.1f} %) | {100 * np.mean((rows.said[here] >= SURE) & (y == 0)):.1f} % |")


def table(title, said, rows, tiers):
    print(f"\n{title}\n\n| {'tier' if tiers else 'family'} | n | right | mean said | calibration error | Brier | sure | "
          "sure and wrong | the engine's sure and wrong |\n" + "| --- " * 9 + "|")
    names = rows.tier if tiers else rows.family
    for name in dict.fromkeys(names):
        print(line(name, said, rows, names == name))
    print(line("all", said, rows, np.ones(len(rows.y), bool)))


def each_left_out(train, test, options, signs):
    """Every family of the test rows judged by a model that was fitted without it."""
    said = np.empty(len(test.y))
    for family in dict.fromkeys(test.family):
        here = test.family == family
        said[here] = Model(train.but([family]), options.ridge, signs).says(test.where(here))
    table("Leave one family out: each family of the test rows, judged by a fit without it", said, test, False)
    table("The same, by tier", said, test, True)


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
    return "\n".join("// " + text for text in lines)


def write_header(file, model, rows):
    seeds = [int(row["seed"]) for row in rows.rows]
    source = (f"Fitted {datetime.date.today().isoformat()} by Tests/Bench/fit_confidence.py to {len(rows.y)} scenes "
              f"({int(rows.y.sum())} of them right to 0.5 ms), training seeds {min(seeds)} to {max(seeds)}, every family "
              f"weighing the same, at commit {git_hash()}. Families: {', '.join(dict.fromkeys(rows.family))}.")
    terms = "\n".join(f'    {{"{name}", {low:.9g}, {high:.9g}, {mean:.9g}, {deviation:.9g}, {weight:.9g}}},'
                      for name, low, high, mean, deviation, weight in zip(rows.names, *model.scale, model.weights[1:]))
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

inline constexpr double bias = {model.weights[0]:.9g};
inline constexpr std::array<Term, {len(rows.names)}> terms{{{{
{terms}
}}}};
}} // namespace tarry::confidence_model
// clang-format on
""")
    print(f"\nWritten: {file}")


def main():
    options = arguments()
    rows, names = read(options.training, ("training",), "fitting")
    chosen = options.columns.split(",") if options.columns else names
    unknown = [name for name in chosen if name not in names]
    if unknown:
        sys.exit(f"no feature is called {', '.join(unknown)}; there are {', '.join(names)}")
    signs = {name: 1 if sign == "+" else -1 for name, _, sign in
             (part.partition("=") for part in options.signs.split(",") if part)}
    strangers = [name for name in signs if name not in names]
    if strangers:
        sys.exit(f"--signs: no feature is called {', '.join(strangers)}; there are {', '.join(names)}")
    train = Rows(rows, chosen).but(options.leave_out.split(","))
    if not len(train.y):
        sys.exit("no rows to fit to")

    model = Model(train, options.ridge, signs)
    print(f"{len(train.y)} scenes, {int(train.y.sum())} right\n\n| feature | mean | deviation | weight | its sd |\n"
          "| --- | --- | --- | --- | --- |")
    print(f"| (bias) | | | {model.weights[0]:+.3f} | {model.deviation[0]:.3f} |")
    for i, name in enumerate(chosen):
        print(f"| {name} | {model.scale[2][i]:.3f} | {model.scale[3][i]:.3f} | {model.weights[i + 1]:+.3f} | "
              f"{model.deviation[i + 1]:.3f} |")
    for files, allowed, title in ((options.test, ("development", "recorded"), "Other seeds"),
                                  (options.judge, ("judging", "recorded"), "Judging seeds")):
        if not files:
            continue
        rows, there = read(files, allowed, "--test" if "development" in allowed else "--judge")
        if there != names:
            sys.exit(f"{files[0]}: its features differ from the training rows'")
        test = Rows(rows, chosen)
        table(title, model.says(test), test, False)
        if options.each_left_out:
            each_left_out(train, test, options, signs)
    if options.header:
        write_header(options.header, model, train)


if __name__ == "__main__":
    main()
