"""Solves planning programs with HiGHS and writes the results.

    cargo run --release -p planner-checks --bin write -- FOLDER
    python3 tests/planner/highs.py FOLDER tests/planner/data/highs.csv [SECONDS]

HiGHS (https://highs.dev, MIT licence, PyPI "highspy") is an independent solver of mixed-integer programs. It gets the
same program as the planner, as MPS, with a time limit in seconds and one thread.
"""

import csv
import hashlib
import pathlib
import sys
import time

import highspy

folder, out = pathlib.Path(sys.argv[1]), pathlib.Path(sys.argv[2])
limit_s = float(sys.argv[3]) if len(sys.argv) > 3 else 60.0

rows = []
for file in sorted(folder.glob("*.mps")):
    highs = highspy.Highs()
    highs.setOptionValue("output_flag", False)
    highs.setOptionValue("time_limit", limit_s)
    highs.setOptionValue("threads", 1)
    highs.readModel(str(file))
    begun = time.perf_counter()
    highs.run()
    took = time.perf_counter() - begun
    info = highs.getInfo()
    optimal = highs.getModelStatus() == highspy.HighsModelStatus.kOptimal
    rows.append(
        [
            file.stem,
            hashlib.sha256(file.read_bytes()).hexdigest(),
            "optimal" if optimal else "time",
            f"{info.objective_function_value:.6f}",
            f"{info.mip_dual_bound:.6f}",
            f"{took:.2f}",
        ]
    )
    print(*rows[-1], flush=True)

with out.open("w", newline="") as file:
    file.write(f"# HiGHS {highspy.Highs().version()}, one thread, {limit_s:g} s at most a program: objective and bound; see highs.py.\n")
    writer = csv.writer(file, lineterminator="\n")
    writer.writerow(["case", "sha256", "status", "objective", "bound", "seconds"])
    writer.writerows(rows)
