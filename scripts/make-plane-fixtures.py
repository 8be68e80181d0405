"""Writes the takes that test/other-libraries.test.ts reads, and what scikit-image and OpenCV find in them.

    /usr/bin/python3 scripts/make-plane-fixtures.py

Needs Debian's python3-numpy, python3-scipy, python3-skimage and python3-opencv. The takes are invented, drawn from fixed seeds, and each is
a NumPy file of shape (frames, rows, columns): a circle that opens, an ellipse that opens, and a curved crack that is there in the second half
of the frames. `expected.json` holds what went into them, what the libraries find, and their versions. Lengths are in px, times in frames.

A circle or an ellipse: in every frame the contour at half of the change (skimage.measure.find_contours, a Gaussian filter of 1 px before it),
parts of it within 3 px of the border left out; through its points a circle (skimage.measure.CircleModel) and an ellipse (cv2.fitEllipse). Origin and ratio
of the axes are means over the frames, the speed is the slope of a straight line through the radii, with the standard error that they
scatter by. The filter moves the contour of a disc inwards by its variance over twice the radius (as far as that is small); this is put
back. The blur and the exposure of the renders are along the radius and do not.

A crack: what changed by more than half of the largest change, Gaussian filter of 1 px before, as a skeleton (skimage.morphology.skeletonize); its length
between two columns as a chain of pixels, steps of 1 and of the root of 2, and along a smoothing spline through them
(scipy.interpolate.splprep, of the deviation that places rounded to pixels have).
"""

import json
from pathlib import Path

import cv2
import numpy as np
import scipy
import scipy.interpolate
import scipy.special
import skimage
import skimage.filters
import skimage.measure
import skimage.morphology

FOLDER = Path(__file__).parent.parent / "test/other-libraries"
FRAMES, ROWS, COLUMNS = 40, 64, 80
BEFORE, STEP, NOISE, BLUR, EXPOSURE = 100, 60, 2, 1.1, 0.4
START = 8
# Radii at which enough of the contour is in the picture, and the blur does not bend it.
RADII = (10, 30)
BORDER = 3
# Standard deviation of the filter before the contour is taken.
FILTER = 1


def edge(distance):
    """Share of the change at a distance behind the front, px."""
    return 0.5 * (1 + scipy.special.erf(distance / (BLUR * np.sqrt(2))))


def opening(radius_at, speed, seed):
    """A take of a front whose radius about its origin grows with the time; radius_at gives, for every pixel, the radius that reaches it."""
    random = np.random.default_rng(seed)
    frames = []
    for frame in range(FRAMES):
        moments = frame + EXPOSURE * (np.arange(8) + 0.5 - 4) / 8
        share = np.mean([edge(speed * (moment - START) - radius_at) for moment in moments], axis=0)
        level = BEFORE + STEP * share + random.normal(0, NOISE, radius_at.shape)
        frames.append(np.clip(np.round(level), 0, 255).astype(np.uint8))
    return np.array(frames)


def contour(frame):
    smooth = skimage.filters.gaussian(frame.astype(float), FILTER, preserve_range=True)
    found = skimage.measure.find_contours(smooth, BEFORE + STEP / 2)
    longest = max(found, key=len)[:, ::-1]
    x, y = longest.T
    inside = (x > BORDER) & (x < COLUMNS - 1 - BORDER) & (y > BORDER) & (y < ROWS - 1 - BORDER)
    return longest[inside]


def line(times, values):
    """Slope of a straight line, and its standard error by the residuals."""
    (slope, _), covariance = np.polyfit(times, values, 1, cov=True)
    return slope, np.sqrt(covariance[0, 0])


def mean(values):
    values = np.asarray(values)
    return values.mean(axis=0).tolist(), (values.std(axis=0, ddof=1) / np.sqrt(len(values))).tolist()


def circles(take, speed):
    times, circle, ellipse = [], [], []
    for frame in range(FRAMES):
        if not RADII[0] <= speed * (frame - START) <= RADII[1]:
            continue
        points = contour(take[frame])
        model = skimage.measure.CircleModel()
        assert model.estimate(points)
        centre, axes, angle = cv2.fitEllipse(points.astype(np.float32))
        times.append(frame)
        circle.append(model.params)
        ellipse.append((*centre, max(axes) / min(axes), (angle + (90 if axes[1] > axes[0] else 0)) % 180, np.mean(axes) / 2))
    circle, ellipse = np.array(circle), np.array(ellipse)
    found = {"frames": times}
    for name, table, radius in (("scikit-image", circle, circle[:, 2]), ("opencv", ellipse, ellipse[:, 4])):
        origin, error = mean(table[:, :2])
        slope, slope_error = line(times, radius + FILTER**2 / (2 * radius))
        found[name] = {"origin": origin, "originError": error, "speed": slope, "speedError": slope_error}
    ratio, ratio_error = mean(ellipse[:, 2])
    found["opencv"] |= {"ratio": ratio, "ratioError": ratio_error, "angleDegrees": mean(ellipse[:, 3])[0]}
    return found


def crack(seed):
    """A dark line, open from the middle of the take on, along y = 32 + 16 sin(...), some 3 px wide."""
    random = np.random.default_rng(seed)
    y, x = np.mgrid[0:ROWS, 0:COLUMNS].astype(float)
    s = np.linspace(8, COLUMNS - 9, 4000)
    course = np.stack([s, across(s)])
    distance = np.min(np.hypot(x[..., None] - course[0], y[..., None] - course[1]), axis=-1)
    depth = 50 * np.exp(-0.5 * (distance / 1.3) ** 2)
    return np.array(
        [
            np.clip(np.round(BEFORE - (depth if frame >= 12 else 0) + random.normal(0, NOISE, x.shape)), 0, 255)
            for frame in range(24)
        ]
    ).astype(np.uint8)


def across(x):
    return 32 + 16 * np.sin((x - 8) / 12)


def skeleton(take, between):
    change = np.mean(take[:12], axis=0) - np.mean(take[12:], axis=0)
    smooth = skimage.filters.gaussian(change, FILTER, preserve_range=True)
    thin = skimage.morphology.skeletonize(smooth > smooth.max() / 2)
    rows, columns = np.nonzero(thin)
    # From end to end, each time to the nearest pixel that was not passed yet.
    left = {(c, r) for c, r in zip(columns.tolist(), rows.tolist())}
    at = min(left)
    chain = [at]
    left.remove(at)
    while left:
        at = min(left, key=lambda p: (p[0] - chain[-1][0]) ** 2 + (p[1] - chain[-1][1]) ** 2)
        if np.hypot(at[0] - chain[-1][0], at[1] - chain[-1][1]) > 1.5:
            break
        chain.append(at)
        left.remove(at)
    chain = np.array(chain, dtype=float)
    spline, _ = scipy.interpolate.splprep(chain.T, s=len(chain) / 12)
    smooth_chain = np.array(scipy.interpolate.splev(np.linspace(0, 1, 5000), spline)).T
    exact = np.stack([np.linspace(*between, 5000), across(np.linspace(*between, 5000))]).T
    return {
        "between": between,
        "pixels": [[int(x), int(y)] for x, y in chain],
        "chainLength": length(part(chain, between)),
        "splineLength": length(part(smooth_chain, between)),
        "trueLength": length(exact),
    }


def part(points, between):
    return points[(points[:, 0] >= between[0]) & (points[:, 0] <= between[1])]


def length(points):
    return float(np.sum(np.hypot(*np.diff(points, axis=0).T)))


def main():
    FOLDER.mkdir(parents=True, exist_ok=True)
    y, x = np.mgrid[0:ROWS, 0:COLUMNS].astype(float)
    origin, speed = (37.3, 29.6), 2.2
    dx, dy = x - origin[0], y - origin[1]
    takes = {"circle": opening(np.hypot(dx, dy), speed, 20261201)}
    # Axes in the ratio 1.2, the longer at 30 degrees from x towards y; the mean of both is that of the circle.
    ratio, angle = 1.2, np.radians(30)
    along, sideways = dx * np.cos(angle) + dy * np.sin(angle), dy * np.cos(angle) - dx * np.sin(angle)
    half = (1 + ratio) / 2
    takes["ellipse"] = opening(np.hypot(along * half / ratio, sideways * half), speed, 20261202)
    takes["crack"] = crack(20261203)
    for name, take in takes.items():
        np.save(FOLDER / f"{name}.npy", take)
    expected = {
        "madeWith": {
            "numpy": np.__version__,
            "scipy": scipy.__version__,
            "scikit-image": skimage.__version__,
            "opencv": cv2.__version__,
        },
        "circle": {"origin": origin, "speed": speed, **circles(takes["circle"], speed)},
        "ellipse": {"origin": origin, "ratio": ratio, "angleDegrees": 30, **circles(takes["ellipse"], speed)},
        "crack": skeleton(takes["crack"], [14, 66]),
    }
    (FOLDER / "expected.json").write_text(json.dumps(expected, indent=1) + "\n")
    for name in ("circle", "ellipse"):
        print(name, {k: v for k, v in expected[name].items() if k != "frames"})
    print("crack", {k: v for k, v in expected["crack"].items() if k != "pixels"})


main()
