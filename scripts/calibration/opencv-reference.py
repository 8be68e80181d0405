"""What OpenCV makes of the same points: findHomography and calibrateCamera, for packages/calibration/test.

Run with Debian's python3-opencv:  /usr/bin/python3 scripts/calibration/opencv-reference.py
The points are those of invented cameras, moved by seeded noise; they stand in the fixture beside what OpenCV says.
"""

import json
from pathlib import Path

import cv2
import numpy as np

FOCAL, AXIS, K1, K2 = 900.0, (239.5, 159.5), -0.25, 0.1
NOISE = 0.05
PITCH = 0.01
POSES = [
    ((0, 0, 0), (-0.04, -0.025, 0.20)),
    ((25, -20, 12), (-0.045, -0.035, 0.22)),
    ((-20, 15, 95), (0.02, -0.04, 0.20)),
    ((-15, -25, -30), (-0.05, -0.005, 0.21)),
]

grid = np.array([(i * PITCH, j * PITCH, 0.0) for j in range(6) for i in range(9)])
random = np.random.default_rng(7)


def rotation(degrees):
    x, y, z = np.radians(degrees)
    return (
        cv2.Rodrigues(np.array([0, 0, z]))[0]
        @ cv2.Rodrigues(np.array([0, y, 0]))[0]
        @ cv2.Rodrigues(np.array([x, 0, 0]))[0]
    )


def seen(pose, k1, k2):
    degrees, place = pose
    points = grid @ rotation(degrees).T + np.array(place)
    u, v = points[:, 0] / points[:, 2], points[:, 1] / points[:, 2]
    q = u * u + v * v
    bend = 1 + k1 * q + k2 * q * q
    pixels = np.stack([AXIS[0] + FOCAL * u * bend, AXIS[1] + FOCAL * v * bend], axis=1)
    return np.round(pixels + NOISE * random.standard_normal(pixels.shape), 4)


straight = seen(POSES[1], 0, 0)
# From the plane to the picture: the squares of distances in the picture are made least.
to_pixels, _ = cv2.findHomography(grid[:, :2], straight, 0)

bent = [seen(pose, K1, K2) for pose in POSES]
matrix = np.array([[FOCAL, 0, AXIS[0]], [0, FOCAL, AXIS[1]], [0, 0, 1]])
flags = (
    cv2.CALIB_USE_INTRINSIC_GUESS
    | cv2.CALIB_FIX_PRINCIPAL_POINT
    | cv2.CALIB_FIX_ASPECT_RATIO
    | cv2.CALIB_ZERO_TANGENT_DIST
    | cv2.CALIB_FIX_K3
)
rms, camera, distortion, _, _ = cv2.calibrateCamera(
    [grid.astype(np.float32)] * len(bent),
    [points.astype(np.float32).reshape(-1, 1, 2) for points in bent],
    (480, 320),
    matrix,
    np.zeros(5),
    flags=flags,
)

fixture = {
    "about": "Invented cameras; written by scripts/calibration/opencv-reference.py",
    "opencv": cv2.__version__,
    "planeMetres": np.round(grid[:, :2], 4).tolist(),
    "homography": {"pixels": straight.tolist(), "toPixels": to_pixels.tolist()},
    "lens": {
        "pixels": [points.tolist() for points in bent],
        "axisPixels": AXIS,
        "rmsPixels": rms,
        "focalPixels": float(camera[0, 0]),
        "k1": float(distortion.ravel()[0]),
        "k2": float(distortion.ravel()[1]),
    },
}
out = Path(__file__).parents[2] / "packages/calibration/test/fixtures/opencv.json"
out.write_text(json.dumps(fixture) + "\n")
