"""The front as a general-purpose script finds it: it is where a profile crosses half of the change since the first frame,
and a straight line goes through these places."""

import numpy as np


def line_through_crossings(profiles, numbers):
    """Line through the places where profiles cross the half level.

    profiles: brightness along the path, shape (frames, along); numbers: of the frames, shape (frames,).
    Returns slope and its standard error, px a frame, the factor of its 95 % interval, first and last frame of the
    line; None where fewer than three frames show a crossing.
    """
    profiles = profiles - profiles[0]
    low, high = np.percentile(profiles, [2, 98])
    # The change is to the bright or to the dark, whichever is larger.
    full = high if high > -low else low

    places, frames = [], []
    for number, profile in zip(numbers, profiles):
        changed = profile / full > 0.5 if full else np.zeros(len(profile), bool)
        flips = np.flatnonzero(changed[1:] != changed[:-1])
        # A profile that is noise all along crosses many times; the first and the last crossing are as good as any.
        if len(flips) == 0:
            continue
        middle = flips[len(flips) // 2]
        before, after = profile[middle] / full, profile[middle + 1] / full
        places.append(middle + (0.5 - before) / (after - before))
        frames.append(number)

    if len(places) < 3:
        return None
    frames, places = np.array(frames, float), np.array(places)
    centred = frames - frames.mean()
    slope = (centred @ places) / (centred @ centred)
    residuals = places - places.mean() - slope * centred
    freedom = len(places) - 2
    error = np.sqrt(residuals @ residuals / freedom / (centred @ centred))
    # Student's factor of 95 %, two-sided, for 1 to 10 degrees of freedom; above, 2.0 is within 12 % of it.
    factor = [12.71, 4.30, 3.18, 2.78, 2.57, 2.45, 2.36, 2.31, 2.26, 2.23][freedom - 1] if freedom <= 10 else 2.0
    return {
        "slope": slope,
        "standardError": error,
        "factor": factor,
        "first": int(frames[0]),
        "last": int(frames[-1]),
    }
