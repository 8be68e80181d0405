"""What a general-purpose script does with a take: each frame is averaged across its height, and a line goes through the
places where the profiles cross half of the change (half_level_line.py).

    python3 scripts/half-level.py take.npy 0,1,2,...

The array has shape (frames, across, along) and the front runs along the last axis; the numbers are those of the
frames. Prints the line as JSON, null where there is none. `pnpm accuracy --hard --beside` runs it.
"""

import json
import sys

import numpy as np
from half_level_line import line_through_crossings

pictures = np.load(sys.argv[1]).astype(float)
numbers = np.array([int(text) for text in sys.argv[2].split(",")])
print(json.dumps(line_through_crossings(pictures.mean(axis=1), numbers)))
