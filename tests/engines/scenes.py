"""Small scenes for the engine tests: a rounded box, turned knobs, nuts, a lamp, a lettered panel."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from PIL import Image, ImageDraw, ImageFont

from mockup.model import material as m
from mockup.model.material import Material, Texture
from mockup.model.mesh import Mesh, joined
from mockup.model.scene import Body, Camera, Lighting, Scene, Shot

WIDTH, LENGTH, HEIGHT = 66.0, 120.0, 38.0
TOP = HEIGHT


def flat_lighting(radiance=1.0, ground=None):
    """A uniform room: every unoccluded surface of reflectance r shows r * radiance."""
    grey = (radiance,) * 3
    return Lighting(
        name="flat", about="", boxes=(), surround=grey, horizon=grey, ground=ground, backdrop=(0.0, 0.0, 0.0)
    )


def quad(width, height, z=0.0, corner=(0.0, 0.0)):
    """A level rectangle facing up about `corner`; uv in mm from its far left corner, v towards the near edge."""
    x, y = width / 2, height / 2
    xy = np.array([(-x, -y), (x, -y), (x, y), (-x, y)])
    return Mesh(
        vertices=np.column_stack([xy + corner, np.full(4, z)]),
        normals=np.tile((0.0, 0.0, 1.0), (4, 1)),
        faces=np.array([(0, 1, 2), (0, 2, 3)]),
        uv=np.column_stack([xy[:, 0] + x, y - xy[:, 1]]),
    )


def lathe(profile, steps=64, centre=(0.0, 0.0), flutes=0, depth=0.0, sharp_deg=35.0):
    """Turn a profile of (radius, z), upward along the outside, about the z axis; crisp where it bends."""
    profile = np.asarray(profile, float)
    d = np.diff(profile, axis=0)
    keep = np.hypot(d[:, 0], d[:, 1]) > 1e-9
    n2 = np.column_stack([d[:, 1], -d[:, 0]]) / np.maximum(np.hypot(d[:, 0], d[:, 1]), 1e-12)[:, None]
    a = np.linspace(0, 2 * np.pi, steps, endpoint=False)
    pieces = []
    for i in range(len(d)):
        if not keep[i]:
            continue
        ends = []
        for j, other in ((i, i - 1), (i + 1, i + 1)):
            n = n2[i]
            if 0 <= other < len(d) and np.dot(n2[i], n2[other]) > np.cos(np.radians(sharp_deg)):
                n = n2[i] + n2[other]
                n = n / np.linalg.norm(n)
            r = profile[j, 0] + (depth * np.cos(flutes * a) if flutes and profile[j, 0] > 4 else 0.0 * a)
            ring = np.column_stack([r * np.cos(a), r * np.sin(a), np.full(steps, profile[j, 1])])
            slope = -(flutes * -depth * np.sin(flutes * a)) / np.maximum(r, 1e-9) if flutes else 0.0 * a
            nr, nt = n[0], n[0] * slope
            normal = np.column_stack(
                [nr * np.cos(a) - nt * np.sin(a), nr * np.sin(a) + nt * np.cos(a), np.full(steps, n[1])]
            )
            ends.append((ring, normal / np.linalg.norm(normal, axis=1, keepdims=True)))
        k = np.arange(steps)
        k1 = (k + 1) % steps
        faces = np.concatenate([np.column_stack([k, k1, steps + k1]), np.column_stack([k, steps + k1, steps + k])])
        pieces.append(
            Mesh(
                vertices=np.concatenate([ends[0][0], ends[1][0]]) + np.array((*centre, 0.0)),
                normals=np.concatenate([ends[0][1], ends[1][1]]),
                faces=faces,
            )
        )
    return joined(pieces)


def prism(sides, across, z0, z1, centre=(0.0, 0.0), turn=0.0):
    """A hexagon nut's outside with a level top, chamfer left out."""
    a = np.arange(sides) * 2 * np.pi / sides + np.radians(turn)
    r = across / 2 / np.cos(np.pi / sides)
    xy = np.column_stack([r * np.cos(a), r * np.sin(a)]) + centre
    parts = []
    for i in range(sides):
        j = (i + 1) % sides
        p, q = xy[i], xy[j]
        n = np.array([q[1] - p[1], p[0] - q[0], 0.0])
        v = np.array([(*p, z0), (*q, z0), (*q, z1), (*p, z1)])
        parts.append(
            Mesh(
                vertices=v,
                normals=np.tile(n / np.linalg.norm(n), (4, 1)),
                faces=np.array([(0, 1, 2), (0, 2, 3)]),
            )
        )
    v = np.column_stack([xy, np.full(sides, z1)])
    fan = np.array([(0, i, i + 1) for i in range(1, sides - 1)])
    parts.append(Mesh(vertices=v, normals=np.tile((0.0, 0.0, 1.0), (sides, 1)), faces=fan))
    return joined(parts)


def rounded_box(width=WIDTH, length=LENGTH, height=HEIGHT, corner=5.0, edge=2.0, draft_deg=1.5):
    """Side with rounded top edge, and the level top with uv; returns (side, top)."""
    k = 10
    arcs = np.radians(np.linspace(0, 90, k + 1))
    ang = np.concatenate([arcs + q * np.pi / 2 for q in range(4)])
    sx = np.repeat([1, -1, -1, 1], k + 1) * (width / 2 - corner)
    sy = np.repeat([1, 1, -1, -1], k + 1) * (length / 2 - corner)
    slope = np.tan(np.radians(draft_deg))
    rows = [(0.0, 0.0, 0.0, 1.0), ((height - edge) * slope, height - edge, np.sin(np.radians(draft_deg)), 1.0)]
    base = rows[-1][0]
    rows[0] = (0.0, 0.0, rows[1][2], 1.0)
    rows += [
        (base + edge * (1 - np.cos(t)), height - edge + edge * np.sin(t), np.sin(t), np.cos(t))
        for t in np.radians(np.linspace(0, 90, 8))[1:]
    ]
    verts, norms = [], []
    for inset, z, nz, nh in rows:
        r = corner - inset
        verts.append(np.column_stack([sx + r * np.cos(ang), sy + r * np.sin(ang), np.full(len(ang), z)]))
        n = np.column_stack([nh * np.cos(ang), nh * np.sin(ang), np.full(len(ang), nz)])
        norms.append(n / np.linalg.norm(n, axis=1, keepdims=True))
    s = len(ang)
    i = np.arange(s)
    j = (i + 1) % s
    faces = []
    for row in range(len(rows) - 1):
        a, b = row * s, (row + 1) * s
        faces += [np.column_stack([a + i, a + j, b + j]), np.column_stack([a + i, b + j, b + i])]
    side = Mesh(vertices=np.concatenate(verts), normals=np.concatenate(norms), faces=np.concatenate(faces))
    lid = verts[-1]
    uv = np.column_stack([lid[:, 0] + width / 2, length / 2 - lid[:, 1]])
    fan = np.array([(0, q, q + 1) for q in range(1, s - 1)])
    top = Mesh(vertices=lid, normals=np.tile((0.0, 0.0, 1.0), (s, 1)), faces=fan, uv=uv)
    return side, top


def lettered(paint=(200, 70, 40), dpi=600, width=WIDTH, length=LENGTH):
    """A panel picture: thin ticks round three knobs, small lettering, hairlines."""
    px = dpi / 25.4
    image = Image.new("RGB", (round(width * px), round(length * px)), paint)
    draw = ImageDraw.Draw(image)
    cream = (245, 235, 210)
    font = ImageFont.load_default(size=2.6 * px)
    big = ImageFont.load_default(size=9 * px)
    for x, y, text in ((15, 22, "LEVEL"), (51, 22, "TONE"), (33, 42, "DRIVE")):
        for k in range(11):
            a = np.radians(-240 + 30 * k)
            c, s = np.cos(a), np.sin(a)
            draw.line(
                [((x + 10.5 * c) * px, (y + 10.5 * s) * px), ((x + 12.2 * c) * px, (y + 12.2 * s) * px)],
                cream,
                int(0.25 * px),
            )
        draw.text((x * px, (y + 13.5) * px), text, cream, font, anchor="mm")
    draw.text((33 * px, 70 * px), "EMBER", cream, big, anchor="mm")
    draw.line([(8 * px, 79 * px), (58 * px, 79 * px)], cream, int(0.3 * px))
    draw.text((33 * px, 82 * px), "hand-built overdrive no. 7", cream, font, anchor="mm")
    return Texture(pixels=np.asarray(image), u_mm=0.0, v_mm=0.0, width_mm=width, height_mm=length)


def linear(code):
    c = np.asarray(code, float) / 255
    return tuple(float(v) for v in np.where(c <= 0.04045, c / 12.92, ((c + 0.055) / 1.055) ** 2.4))


def knob(x, y, z=TOP):
    body = [(8.6, 0.8), (8.9, 1.1), (8.9, 2.6), (8.2, 3.2), (7.8, 12.6), (7.3, 13.4), (6.5, 13.8), (0.0, 13.8)]
    return lathe([(r, h + z) for r, h in body], 96, (x, y), flutes=18, depth=0.22)


def line_on(x, y, z=TOP):
    q = quad(0.9, 5.2, z + 13.83, (x, y + 4.0))
    return replace(q, uv=None)


def dome(x, y, z=TOP, r=2.5):
    t = np.radians(np.linspace(0, 90, 12))
    return lathe([(r, z), (r, z + 1.0)] + [(r * np.cos(a), z + 1.0 + r * np.sin(a)) for a in t[1:]], 48, (x, y))


def bezel(x, y, z=TOP):
    return lathe(
        [(4.6, z), (4.5, z + 0.9), (4.1, z + 1.3), (3.2, z + 1.5), (2.7, z + 1.4), (2.55, z + 0.6)], 64, (x, y)
    )


def footswitch(x, y, z=TOP):
    ring = lathe([(9.0, z), (9.0, z + 0.8), (8.7, z + 1.0), (5.9, z + 1.0)], 64, (x, y))
    nut = prism(6, 14.0, z + 1.0, z + 3.2, (x, y), 12)
    bush = lathe([(5.9, z + 3.2), (5.9, z + 6.0), (5.5, z + 6.4), (4.8, z + 6.4)], 64, (x, y))
    t = np.radians(np.linspace(15, 90, 8))
    cap = [(4.7, z + 6.4), (4.7, z + 9.5)] + [(4.7 - 1.2 + 1.2 * np.cos(a), z + 9.5 + 1.2 * np.sin(a)) for a in t]
    button = lathe([*cap, (0.0, z + 10.75)], 64, (x, y), sharp_deg=50)
    return ring, nut, bush, button


def pedal(lighting, paint=(200, 70, 40), gloss=True, knobs=m.BLACK_PLASTIC):
    """The finished thing: about 20 000 triangles."""
    side, top = rounded_box()
    coat = 1.0 if gloss else 0.0
    skin = Material(name="paint", base_color=linear(paint), roughness=0.4, coat=coat, coat_roughness=0.08)
    bodies = [
        Body(name="side", mesh=side, material=skin, group="box"),
        Body(name="top", mesh=top, material=replace(skin, texture=lettered(paint)), group="box"),
    ]
    white = Material(name="line", base_color=(0.85, 0.85, 0.82), roughness=0.5)
    for i, (x, y) in enumerate(((-18, 38), (18, 38), (0, 18))):
        part = f"knob-{i}"
        bodies.append(Body(name="barrel", mesh=knob(x, y), material=knobs, group="hardware", part=part))
        bodies.append(Body(name="line", mesh=line_on(x, y), material=white, group="hardware", part=part))
    for name, mesh, material in zip(
        ("ring", "nut", "bush", "button"),
        footswitch(0, -44),
        (m.STEEL, m.NICKEL, m.NICKEL, m.CHROME),
        strict=True,
    ):
        bodies.append(Body(name=name, mesh=mesh, material=material, group="hardware", part="switch"))
    lamp = Material(name="lamp", base_color=(0.6, 0.02, 0.01), roughness=0.1, emission=(5.0, 0.25, 0.08))
    bodies.append(Body(name="bezel", mesh=bezel(0, 52), material=m.CHROME, group="hardware", part="lamp"))
    bodies.append(Body(name="dome", mesh=dome(0, 52, TOP + 0.4), material=lamp, group="hardware", part="lamp"))
    for sx in (-1, 1):
        turn = np.array([[0, 0, sx, 0], [0, 1, 0, 0], [-sx, 0, 0, 0], [0, 0, 0, 1]], float)
        turn[:3, 3] = (sx * (WIDTH / 2 - 0.8), 20, 18)
        for mesh, material in (
            (prism(6, 13, 0, 2.4), m.NICKEL),
            (lathe([(4.8, 2.4), (4.8, 4.6), (4.4, 5.0), (3.3, 5.0), (3.2, 0.5), (0.0, 0.5)], 48), m.CHROME),
        ):
            bodies.append(Body(name="jack", mesh=mesh.moved(turn), material=material, group="hardware", part="jack"))
    return Scene(bodies=tuple(bodies), lighting=lighting)


HERO = Camera(eye=(-150.0, -330.0, 300.0), target=(0.0, 0.0, 18.0), fov_deg=24.0)
LOW = Camera(eye=(170.0, -360.0, 120.0), target=(0.0, 0.0, 20.0), fov_deg=22.0)
DOWN = Camera(eye=(0.0, 0.0, 400.0), target=(0.0, 0.0, 0.0), up=(0.0, 1.0, 0.0), ortho_mm=140.0)


def shot(camera=HERO, width=96, height=96, **kind):
    return Shot(camera=camera, width_px=width, height_px=height, **kind)
