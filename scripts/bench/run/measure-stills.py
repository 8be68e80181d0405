"""What a careful user writes with general-purpose libraries: stills decoded by OpenCV on two threads, a band of rows
averaged, a line through the places where the profiles cross half of the change.

    python3 measure-stills.py FOLDER TOP ROWS

Prints the line as JSON (half_level_line.py). `pnpm bench` runs it beside the command.
"""

import json
import os
import sys
from concurrent.futures import ThreadPoolExecutor

import cv2
import numpy as np

sys.path.insert(0, os.path.join(os.path.dirname(__file__), "../.."))
from half_level_line import line_through_crossings  # noqa: E402

THREADS = 2

folder, top, rows = sys.argv[1], int(sys.argv[2]), int(sys.argv[3])
cv2.setNumThreads(1)  # the threads below decode one still each


def profile_of(name):
    picture = cv2.imread(os.path.join(folder, name), cv2.IMREAD_UNCHANGED)
    return picture[top : top + rows].mean(axis=0)


names = sorted(os.listdir(folder))
with ThreadPoolExecutor(THREADS) as pool:
    profiles = np.array(list(pool.map(profile_of, names)))
print(json.dumps(line_through_crossings(profiles, np.arange(len(names)))))
