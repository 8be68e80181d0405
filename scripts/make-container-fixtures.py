"""Writes the files of frames that the tests of frame-loader read, and what an independent decoder finds in them.

    /usr/bin/python3 scripts/make-container-fixtures.py

Needs Debian's python3-numpy, python3-tifffile and ffmpeg. The samples are invented: a ramp with noise from a fixed seed,
other in every frame. They are written as they are to `NAME.bin` (frame after frame, least significant byte first);
`expected.json` names for every container whose samples it holds, and the SHA-256 of all its frames as decoded again: npy by
NumPy, YUV4MPEG2 by ffmpeg, TIFF by tifffile. LZW is written by ffmpeg (tifffile without further packages knows none)
and decoded by it, piece by piece; the tests decode all TIFF files once more with sharp.
"""

import hashlib
import json
import shutil
import subprocess
import tempfile
from pathlib import Path

import numpy as np
import tifffile

# tifffile asks for an encoder before it takes pieces that are coded already; it must not be called.
tifffile.tifffile.imagecodecs.lzw_encode = None
tifffile.tifffile.imagecodecs.packbits_encode = None

FOLDER = Path(__file__).parent.parent / "packages/frame-loader/test/fixtures/containers"
FRAMES, ROWS, COLUMNS = 3, 13, 21
# Of frames whose sizes are even, and that are more than a tile high.
TALL, BROAD = 20, 18
STRIP_ROWS = 5
TILE = 16

# Those that the tests cut short.
MARKED = [
    "grey8-le-plain-strips.tif",
    "grey16-le-plain-tiles-big.tif",
    "series.tif",
    "colour-planar.tif",
    "grey16-be-lzw-differences-tiles.tif",
    "grey8-le-lzw-strips.tif",
    "grey16-be-deflate-strips-big.tif",
    "grey8-be-packbits-tiles.tif",
]


def ffmpeg(arguments, given=b""):
    command = ["ffmpeg", "-v", "error", "-bitexact", *arguments]
    return subprocess.run(command, input=given, capture_output=True, check=True).stdout


def samples():
    random = np.random.default_rng(20261127)
    place = np.arange(TALL)[:, None] * 3 + np.arange(COLUMNS)[None, :] * 7
    ramp = (place[None] + 40 * np.arange(FRAMES)[:, None, None]) / 512
    grey = ramp + random.normal(0, 0.004, ramp.shape)
    # A part without noise, so that runs of equal samples occur, and both ends of the range.
    grey[:, 6:9, 4:15] = 0.25
    grey[:, 0, 0], grey[:, ROWS - 1, -1] = 0, 1
    tall = np.clip(grey, 0, 1)[:, :, :BROAD]
    grey = np.clip(grey, 0, 1)[:, :ROWS]
    colour = np.stack([grey, 1 - grey, np.flip(grey, 2)], -1)
    as_whole = lambda values, bits: np.round(values * (2**bits - 1)).astype("u1" if bits == 8 else "u2")
    return {
        "grey8": as_whole(grey, 8),
        "grey10": as_whole(grey, 10),
        "grey12": as_whole(grey, 12),
        "grey16": as_whole(grey, 16),
        "even8": as_whole(tall, 8),
        "even10": as_whole(tall, 10),
        "float32": ((grey - 0.5) * 1e3).astype("f4"),
        "colour8": as_whole(colour, 8),
        "colour16": as_whole(colour, 16),
    }


def little(array):
    return np.ascontiguousarray(array.astype(array.dtype.newbyteorder("<")))


def write_npy(array, name, version):
    with open(FOLDER / name, "wb") as file:
        np.lib.format.write_array(file, array, version=version)
    return np.load(FOLDER / name)


def write_y4m(luma, name, form, deep_bytes, chroma):
    """chroma: rows and columns of each of the other two planes."""
    random = np.random.default_rng(7)
    top = 255 if deep_bytes == 1 else 1023
    frames = b""
    for frame in luma:
        frames += little(frame).tobytes()
        for size in chroma:
            frames += random.integers(0, top, size).astype(f"<u{deep_bytes}").tobytes()
    rows, columns = luma.shape[1:]
    given = ["-f", "rawvideo", "-pix_fmt", form, "-s", f"{columns}x{rows}", "-i", "-"]
    ffmpeg([*given, "-strict", "-1", "-f", "yuv4mpegpipe", "-y", str(FOLDER / name)], frames)
    decoded = ffmpeg(["-i", str(FOLDER / name), "-f", "rawvideo", "-pix_fmt", form, "-"])
    assert decoded == frames, name
    each = np.frombuffer(decoded, f"<u{deep_bytes}").reshape(len(luma), -1)
    return each[:, : rows * columns].reshape(luma.shape)


def pieces_of(page, tiled, planar):
    """Strips or tiles of a page in the order of their numbers; tiles are padded with zeros."""
    rows, columns = page.shape[:2]
    planes = np.moveaxis(page, -1, 0) if planar else page[None]
    for plane in planes:
        if not tiled:
            yield from (plane[top : top + STRIP_ROWS] for top in range(0, rows, STRIP_ROWS))
            continue
        for top in range(0, rows, TILE):
            for left in range(0, columns, TILE):
                tile = np.zeros((TILE, TILE, *plane.shape[2:]), plane.dtype)
                part = plane[top : top + TILE, left : left + TILE]
                tile[: part.shape[0], : part.shape[1]] = part
                yield tile


def differences(piece):
    result = piece.copy()
    result[:, 1:] = piece[:, 1:] - piece[:, :-1]
    return result


def coded(blocks, algorithm):
    """Bytes of blocks of bytes, coded by ffmpeg as if each were a grey picture; decoded again they must be the same."""
    result = {}
    for shape in sorted({block.shape for block in blocks}):
        folder = Path(tempfile.mkdtemp())
        alike = [k for k, block in enumerate(blocks) if block.shape == shape]
        size = f"{shape[1]}x{shape[0]}"
        given = ["-f", "rawvideo", "-pix_fmt", "gray", "-s", size, "-i", "-"]
        data = b"".join(blocks[k].tobytes() for k in alike)
        made = ["-c:v", "tiff", "-compression_algo", algorithm, "-start_number", "0", "-y", str(folder / "%d.tif")]
        ffmpeg([*given, *made], data)
        back = ffmpeg(["-start_number", "0", "-i", str(folder / "%d.tif"), "-f", "rawvideo", "-pix_fmt", "gray", "-"])
        assert back == data, algorithm
        for place, k in enumerate(alike):
            with tifffile.TiffFile(folder / f"{place}.tif") as picture:
                page = picture.pages[0]
                assert len(page.dataoffsets) == 1
                picture.filehandle.seek(page.dataoffsets[0])
                result[k] = picture.filehandle.read(page.databytecounts[0])
        shutil.rmtree(folder)
    return [result[k] for k in range(len(blocks))]


def write_tiff(array, name, *, big=False, order="<", compression=None, predictor=False, tiled=False, planar=False, series=False):
    colour = array.ndim == 4
    stored = array.astype(array.dtype.newbyteorder(order))
    shape = (3, *stored.shape[1:3]) if planar else stored.shape[1:]
    layout = {"tile": (TILE, TILE)} if tiled else {"rowsperstrip": STRIP_ROWS}
    common = dict(
        photometric="rgb" if colour else "minisblack",
        planarconfig=("separate" if planar else "contig") if colour else None,
        compression=compression,
        predictor=predictor or None,
        metadata=None,
        software=False,
        **layout,
    )
    with tifffile.TiffWriter(FOLDER / name, bigtiff=big, byteorder=order) as writer:
        if series:
            writer.write(stored, **common)
        elif compression in ("lzw", "packbits"):
            pages = [list(pieces_of(page, tiled, planar)) for page in stored]
            blocks = []
            for piece in (piece for page in pages for piece in page):
                kept = differences(piece) if predictor else piece
                ordered = np.ascontiguousarray(kept.astype(stored.dtype))
                blocks.append(ordered.reshape(len(piece), -1).view("u1"))
            bytes_of = iter(coded(blocks, compression))
            for page in pages:
                pieces = iter([next(bytes_of) for _ in page])
                writer.write(pieces, shape=shape, dtype=stored.dtype, **common)
        else:
            for page in stored:
                writer.write(np.moveaxis(page, -1, 0) if planar else page, **common)
    if compression == "lzw":
        return array
    pages = [page.asarray() for page in tifffile.TiffFile(FOLDER / name).pages]
    return np.stack([np.moveaxis(page, 0, -1) if planar else page for page in pages])


def marks_of_tiff(name):
    """Bytes at which a part of the file begins or ends, and those at which each page and all before it are there."""
    marks, whole, end = {8}, [], 8
    with tifffile.TiffFile(FOLDER / name) as file:
        counted, entry, place = (8, 20, 8) if file.is_bigtiff else (2, 12, 4)
        for page in file.pages:
            parts = [(page.offset, counted + entry * len(page.tags) + place)]
            apart = {tag.code: (tag.valueoffset, tag.valuebytecount) for tag in page.tags if tag.valuebytecount > place}
            parts += zip(page.dataoffsets, page.databytecounts)
            marks |= {at + more for at, size in [*parts, *apart.values()] for more in (0, size)}
            # A page without its resolution is whole all the same.
            parts += [where for code, where in apart.items() if code not in (282, 283)]
            end = max(end, *(at + size for at, size in parts))
            whole.append(end)
    return {"marks": sorted(marks), "whole": whole}


def marks_of_plain(first, head, frame, gap=0):
    """The same of frames with a head of their own and a gap behind each but the last."""
    starts = [first + k * (head + frame + gap) for k in range(FRAMES)]
    whole = [start + head + frame for start in starts]
    return {"marks": sorted({0, *starts, *(start + head for start in starts), *whole}), "whole": whole}


def main():
    shutil.rmtree(FOLDER, ignore_errors=True)
    FOLDER.mkdir(parents=True)
    sets = samples()
    files = {}

    def add(name, which, decoded, **more):
        assert np.array_equal(decoded, sets[which]), name
        files[name] = {"samples": which, **more, "sha256": hashlib.sha256(little(decoded).tobytes()).hexdigest()}

    for which, array in sets.items():
        (FOLDER / f"{which}.bin").write_bytes(little(array).tobytes())

    for which, kinds in {"grey8": ["|u1"], "grey16": ["<u2", ">u2"], "float32": ["<f4", ">f4"]}.items():
        for kind in kinds:
            for version in (1, 2, 3) if kind == "<u2" else (1,):
                end = {"<": "-le", ">": "-be", "|": ""}[kind[0]]
                name = f"{kind[1:]}{end}-v{version}.npy"
                add(name, which, write_npy(sets[which].astype(kind), name, (version, 0)))
    write_npy(np.asfortranarray(sets["grey16"]), "refused-fortran.npy", (1, 0))
    write_npy(sets["grey16"].astype("i4"), "refused-i4.npy", (1, 0))
    write_npy(sets["grey16"][0], "refused-flat.npy", (1, 0))

    half = lambda size: (size + 1) // 2
    for name, which, form, size, chroma in [
        ("mono", "grey8", "gray", 1, []),
        ("mono10", "grey10", "gray10le", 2, []),
        ("mono12", "grey12", "gray12le", 2, []),
        ("mono16", "grey16", "gray16le", 2, []),
        ("420-odd", "grey8", "yuv420p", 1, [(half(ROWS), half(COLUMNS))] * 2),
        ("420-even", "even8", "yuv420p", 1, [(TALL // 2, BROAD // 2)] * 2),
        ("422", "grey8", "yuv422p", 1, [(ROWS, half(COLUMNS))] * 2),
        ("444", "grey8", "yuv444p", 1, [(ROWS, COLUMNS)] * 2),
        # Even: of an odd size this ffmpeg writes too little of the deep planes behind the luma, and reads no frame of it.
        ("420p10", "even10", "yuv420p10le", 2, [(TALL // 2, BROAD // 2)] * 2),
    ]:
        add(f"{name}.y4m", which, write_y4m(sets[which], f"{name}.y4m", form, size, chroma))

    random = np.random.default_rng(11)
    for which, kind, sample, offset, gap in [
        ("grey8", "<u1", "u8", 0, 0),
        ("grey8", "<u1", "u8", 7, 3),
        ("grey16", "<u2", "u16le", 5, 4),
        ("grey16", ">u2", "u16be", 512, 0),
        ("float32", "<f4", "f32le", 0, 9),
    ]:
        name = f"{sample}-{offset}-{gap}.raw"
        between = [random.bytes(gap) for _ in range(FRAMES - 1)] + [b""]
        frames = [frame.astype(kind).tobytes() + rest for frame, rest in zip(sets[which], between)]
        (FOLDER / name).write_bytes(random.bytes(offset) + b"".join(frames))
        at = np.memmap(FOLDER / name, "u1", "r")
        size = ROWS * COLUMNS * int(kind[2])
        starts = [offset + k * (size + gap) for k in range(FRAMES)]
        decoded = np.stack([np.array(at[s : s + size]).view(kind).reshape(ROWS, COLUMNS) for s in starts])
        layout = f"{COLUMNS}x{ROWS}:{sample}@{offset}+{gap}"
        add(name, which, decoded, raw=layout)

    for which in ("grey8", "grey16"):
        for order in "<>":
            for compression in (None, "lzw", "zlib", "packbits"):
                for predictor in (False, True) if compression else (False,):
                    for tiled in (False, True):
                        # Both forms of the file in turn, so that each meets every kind.
                        big = (order == ">") != tiled
                        word = {None: "plain", "zlib": "deflate"}.get(compression, compression)
                        name = "-".join(
                            [which, "be" if order == ">" else "le", word]
                            + ["differences"] * predictor
                            + ["tiles" if tiled else "strips"]
                            + ["big"] * big
                        )
                        name += ".tif"
                        given = dict(big=big, order=order, compression=compression, predictor=predictor, tiled=tiled)
                        add(name, which, write_tiff(sets[which], name, **given))
    for name, which, given in [
        ("series.tif", "grey16", dict(series=True)),
        ("series-big.tif", "grey8", dict(series=True, big=True, order=">")),
        ("tall-tiles.tif", "even8", dict(tiled=True)),
        ("tall-lzw-tiles.tif", "even8", dict(tiled=True, compression="lzw", predictor=True)),
        ("tall10-be-deflate-tiles-big.tif", "even10", dict(tiled=True, compression="zlib", big=True, order=">")),
        ("float.tif", "float32", {}),
        ("float-be-deflate-tiles.tif", "float32", dict(order=">", compression="zlib", tiled=True)),
        ("colour.tif", "colour8", {}),
        ("colour-planar.tif", "colour8", dict(planar=True)),
        ("colour-planar-tiles-big.tif", "colour8", dict(planar=True, tiled=True, big=True)),
        ("colour-lzw-differences.tif", "colour8", dict(compression="lzw", predictor=True)),
        ("colour-lzw-planar.tif", "colour8", dict(compression="lzw", predictor=True, planar=True)),
        ("colour-packbits-tiles.tif", "colour8", dict(compression="packbits", tiled=True)),
        ("colour16-be-planar-deflate.tif", "colour16", dict(order=">", planar=True, compression="zlib", predictor=True)),
        ("colour16-be.tif", "colour16", dict(order=">", big=True)),
        ("colour16-deflate-tiles.tif", "colour16", dict(compression="zlib", predictor=True, tiled=True)),
    ]:
        add(name, which, write_tiff(sets[which], name, **given))

    for name in MARKED:
        files[name].update(marks_of_tiff(name))
    files["u2-be-v1.npy"].update(marks_of_plain(128, 0, 2 * ROWS * COLUMNS))
    files["f4-le-v1.npy"].update(marks_of_plain(128, 0, 4 * ROWS * COLUMNS))
    for name, size in {"mono16": 2 * ROWS * COLUMNS, "420-odd": ROWS * COLUMNS + 2 * half(ROWS) * half(COLUMNS)}.items():
        first = (FOLDER / f"{name}.y4m").read_bytes().index(b"\n") + 1
        files[f"{name}.y4m"].update(marks_of_plain(first, len(b"FRAME\n"), size))
    for name, offset, gap, size in [("u8-0-0", 0, 0, 1), ("u16le-5-4", 5, 4, 2), ("f32le-0-9", 0, 9, 4)]:
        files[f"{name}.raw"].update(marks_of_plain(offset, 0, size * ROWS * COLUMNS, gap))

    shapes = {which: {"shape": list(array.shape[:3]), "type": array.dtype.name} for which, array in sets.items()}
    expected = {"samples": shapes, "files": files}
    (FOLDER / "expected.json").write_text(json.dumps(expected) + "\n")
    total = sum(path.stat().st_size for path in FOLDER.iterdir())
    print(f"{len(files)} containers, {total} bytes")
    assert total < 300_000


main()
