"""Grounds for the trials, from 0 (dark) to 1 (light): drawn here, and the pictures that scikit-image and the project carry.

There are two sets that share nothing. The bounds of the grades and the reader were chosen on the first; the second was made
afterwards and nothing was chosen on it.
"""

from pathlib import Path

import numpy as np
from PIL import Image
from scipy import ndimage, spatial
from skimage import color, data

PAGE = (1350, 960)  # 4.5 by 3.2 in
SHAPE = PAGE[::-1]

KINDS = ["flat", "gradient", "wash", "wash, small", "speckle", "stars", "grain", "leaves", "stripes", "line drawing", "spots", "edge"]
PICTURES = ["astronaut", "brick", "camera", "chelsea", "coffee", "coins", "colorwheel", "grass", "gravel", "hubble_deep_field",
            "immunohistochemistry", "moon", "page", "rocket"]

OTHER_KINDS = ["vignette", "steps", "clouds", "waves", "rain", "tiles", "confetti", "hatching", "rings", "mosaic", "fur", "folds"]
OTHER_PICTURES = ["cell", "clock", "horse", "logo", "microaneurysms", "retina", "text", "stereo_motorcycle", "lfw_subset",
                  "shepp_logan_phantom", "night-sea/art/back.jpg", "night-sea/art/front.jpg"]

# Calm enough for another ink or larger type to do; and calm below, so that another place does.
CALM_KINDS = ["flat", "gradient", "edge", "vignette", "steps"]
HALF_KINDS = ["half busy"]


def noise(rng, shape, scale):
    """Smooth noise of one scale, from 0 to 1, that goes on from edge to edge."""
    waves = ndimage.fourier_gaussian(np.fft.rfft2(rng.standard_normal(shape)), scale, n=shape[1])
    return stretched(np.fft.irfft2(waves, shape))


def stretched(field):
    return (field - field.min()) / (field.max() - field.min())


def places():
    return np.meshgrid(np.arange(PAGE[0]), np.arange(PAGE[1]))


def drawn(kind, rng):
    """A ground of the first set."""
    width, height = PAGE
    x, y = places()
    if kind == "flat":
        return np.full((height, width), 0.5)
    if kind == "gradient":
        return x / width
    if kind == "wash":
        return noise(rng, (height, width), 120)
    if kind == "wash, small":
        return noise(rng, (height, width), 40)
    if kind == "speckle":
        return (rng.random((height, width)) > 0.985).astype(float)
    if kind == "stars":
        field = np.zeros((height, width))
        for _ in range(160):
            field[rng.integers(height), rng.integers(width)] = rng.uniform(200, 900)
        return np.clip(ndimage.gaussian_filter(field, 3), 0, 1)
    if kind == "grain":
        return np.clip(0.5 + 0.2 * ndimage.gaussian_filter(rng.standard_normal((height, width)), 1.2) * 3, 0, 1)
    if kind == "leaves":
        return sum(noise(rng, (height, width), scale) / 4 for scale in (4, 8, 16, 32))
    if kind == "stripes":
        return 0.5 + 0.5 * np.sign(np.sin(2 * np.pi * (x + 0.3 * y) / rng.uniform(8, 60)))
    if kind == "line drawing":
        field = noise(rng, (height, width), 20)
        return 1 - np.clip(1 - np.abs(((field * 14) % 1) - 0.5) * 8, 0, 1)
    if kind == "spots":
        return (noise(rng, (height, width), 25) > 0.5).astype(float)
    if kind == "edge":
        return (y + 0.4 * x > rng.uniform(0.4, 0.9) * height).astype(float)
    raise ValueError(kind)


def drawn_otherwise(kind, rng):
    """A ground of the second set, or a calm one."""
    width, height = PAGE
    x, y = places()
    middle = rng.uniform(0.2, 0.8, 2) * PAGE
    away = np.hypot(x - middle[0], y - middle[1])
    if kind == "vignette":
        return stretched(-away)
    if kind == "steps":
        return np.floor(x / width * 5) / 4
    if kind == "clouds":
        waves = np.hypot(*np.meshgrid(np.fft.fftfreq(width), np.fft.fftfreq(height)))
        waves[0, 0] = 1
        field = np.fft.ifft2(np.fft.fft2(rng.standard_normal(SHAPE)) / waves**1.2).real
        return stretched(field)
    if kind == "waves":
        phases = rng.uniform(0, 2 * np.pi, 6)
        return stretched(sum(np.sin(2 * np.pi * y / (9 + 14 * n) + 3 * np.sin(x / (70 + 40 * n)) + phase)
                             for n, phase in enumerate(phases)))
    if kind == "rain":
        drops = (rng.random(SHAPE) > 0.997).astype(float)
        return stretched(np.clip(ndimage.gaussian_filter(drops, (14, 0.8)), 0, 0.02))
    if kind == "tiles":
        side, joint = rng.integers(30, 110), 4
        shades = rng.uniform(0.3, 1, (height // side + 2, width // side + 2))
        field = shades[y // side, x // side]
        return np.where((x % side < joint) | (y % side < joint), 0, field)
    if kind == "confetti":
        field = np.full(SHAPE, 0.5)
        for _ in range(420):
            at = rng.uniform(0, 1, 2) * PAGE
            field[np.hypot(x - at[0], y - at[1]) < rng.uniform(4, 16)] = rng.uniform(0, 1)
        return field
    if kind == "hatching":
        apart, wide = rng.uniform(9, 26), rng.uniform(2, 4)
        return 1 - (((x + y) % apart < wide) | ((x - y) % apart < wide)).astype(float)
    if kind == "rings":
        return 0.5 + 0.5 * np.sin(2 * np.pi * away / rng.uniform(12, 70))
    if kind == "mosaic":
        seeds = rng.uniform(0, 1, (600, 2)) * PAGE
        _, nearest = spatial.cKDTree(seeds).query(np.column_stack([x.ravel(), y.ravel()]))
        return rng.uniform(0, 1, len(seeds))[nearest].reshape(SHAPE)
    if kind == "fur":
        strands = ndimage.gaussian_filter(rng.standard_normal((height * 2, width * 2)), (1, 12))
        turned = ndimage.rotate(strands, rng.uniform(10, 60), reshape=False, order=1)
        return stretched(turned[height // 2:height // 2 + height, width // 2:width // 2 + width])
    if kind == "folds":
        field = noise(rng, SHAPE, 200) + 0.04 * rng.standard_normal(SHAPE)
        for _ in range(5):
            field += 0.25 * np.sign(x * rng.uniform(-1, 1) + y * rng.uniform(-1, 1) - rng.uniform(-0.5, 0.5) * width)
        return stretched(field)
    if kind == "half busy":
        return np.where(y < rng.uniform(0.15, 0.35) * height, noise(rng, SHAPE, 8) > 0.5, 0.5)
    return drawn(kind, rng)


def of_library(name):
    """A picture of scikit-image, or of the project's drafts, as shades from 0 to 1, cut to the page's shape; none where it is
    not carried along."""
    if "/" in name:
        image = np.asarray(Image.open(Path("drafts") / name).convert("RGB"))
    else:
        try:
            image = getattr(data, name)()
        except Exception:  # Not among those that the package carries; nothing is fetched.
            return None
        if name == "lfw_subset":  # A hundred faces, side by side.
            image = np.hstack([np.vstack(image[column * 10:column * 10 + 10]) for column in range(10)])
        image = np.asarray(image[0] if isinstance(image, tuple) else image)
    grey = image if image.ndim == 2 else color.rgb2gray(image[..., :3])
    grey = grey.astype(float)
    grey = grey / (255 if grey.max() > 1 else 1)
    height, width = grey.shape
    wanted = min(width, height * PAGE[0] // PAGE[1]), min(height, width * PAGE[1] // PAGE[0])
    left, head = (width - wanted[0]) // 2, (height - wanted[1]) // 2
    part = grey[head:head + wanted[1], left:left + wanted[0]]
    return np.asarray(Image.fromarray(part.astype(np.float32)).resize(PAGE, Image.BICUBIC)).clip(0, 1)


def of_pictures(names):
    return [(name, lambda rng, shades=shades: shades) for name in names if (shades := of_library(name)) is not None]


def first():
    return [(kind, lambda rng, kind=kind: drawn(kind, rng)) for kind in KINDS] + of_pictures(PICTURES)


def second():
    return [(kind, lambda rng, kind=kind: drawn_otherwise(kind, rng)) for kind in OTHER_KINDS] + of_pictures(OTHER_PICTURES)


def calm():
    return [(kind, lambda rng, kind=kind: drawn_otherwise(kind, rng)) for kind in CALM_KINDS]


def half_busy():
    return [(kind, lambda rng, kind=kind: drawn_otherwise(kind, rng)) for kind in HALF_KINDS]
