"""Lays drawn trays flat and finds Otsu's threshold of their excess green with scikit-image, and writes down what it found.

    cargo run -p imaging-checks --bin pictures -- FOLDER PICTURE...
    python3 tests/imaging/skimage_check.py FOLDER tests/imaging/data

scikit-image (https://scikit-image.org, BSD-3-Clause, PyPI "scikit-image") is an independent implementation. It is given the very
bytes and corners that the eye is given, and how many pixels it makes of a cell. Pictures whose cells are larger than that are left
out, since there the eye takes means of several samples.
"""

import csv
import hashlib
import json
import pathlib
import sys

import numpy as np
import skimage
from skimage.filters import threshold_otsu
from skimage.transform import ProjectiveTransform, warp

folder, out = pathlib.Path(sys.argv[1]), pathlib.Path(sys.argv[2])

pictures, cells = [], []
for line in (folder / "pictures.jsonl").read_text().splitlines():
    case = json.loads(line)
    data = (folder / (case["case"] + ".rgba")).read_bytes()
    image = np.frombuffer(data, np.uint8).reshape(case["height"], case["width"], 4)
    image = image[:, :, :3].astype(float)
    side, rows, columns = case["cell_px"], case["rows"], case["columns"]
    wide, high = columns * side, rows * side
    # A pixel's centre has integer coordinates here and half-integer ones there.
    flat = np.array([[0, 0], [wide, 0], [wide, high], [0, high]]) - 0.5
    seen = np.array([[corner["x"], corner["y"]] for corner in case["corners"]]) - 0.5
    mapping = ProjectiveTransform.from_estimate(flat, seen)
    assert mapping, case["case"]
    tray = warp(image, mapping, output_shape=(high, wide), order=1, mode="edge", preserve_range=True)
    total = tray.sum(axis=2)
    excess = np.zeros_like(total)
    np.divide(2 * tray[:, :, 1] - tray[:, :, 0] - tray[:, :, 2], total, out=excess, where=total > 0)
    threshold = threshold_otsu(excess)
    pictures.append(
        [
            case["case"],
            hashlib.sha256(data).hexdigest(),
            side,
            f"{threshold:.8f}",
            f"{(excess > threshold).mean():.8f}",
            f"{excess.min():.8f}",
            f"{excess.max():.8f}",
        ]
    )
    means = tray.reshape(rows, side, columns, side, 3).mean(axis=(1, 3))
    for row in range(rows):
        for column in range(columns):
            cells.append([case["case"], row, column, *(f"{v:.4f}" for v in means[row, column])])


def write(name, about, head, lines):
    with (out / name).open("w", newline="") as file:
        file.write(f"# scikit-image {skimage.__version__}: {about}; see skimage_check.py.\n")
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(head)
        writer.writerows(lines)


write(
    "skimage_pictures.csv",
    "Otsu's threshold of the excess green of trays laid flat, and the share of pixels above it",
    ["picture", "sha256", "cell_px", "threshold", "share_above", "least", "most"],
    pictures,
)
write(
    "skimage_cells.csv",
    "mean red, green and blue (0 to 255) of each cell of trays laid flat",
    ["picture", "row", "column", "red", "green", "blue"],
    cells,
)
