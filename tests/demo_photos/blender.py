"""The few things the scenes need of the renderer. Lengths are millimetres; 100 mm are one unit of it."""

import math

import bpy
import mathutils
import numpy as np
from mathutils import Vector

from .material import MM as MM
from .material import Material as Material
from .surround import workshop as workshop

WIDTH, HEIGHT = 1280, 960


def begin(samples: int) -> None:
    """An empty scene with the renderer set to few samples and a denoiser."""
    bpy.ops.wm.read_factory_settings(use_empty=True)
    scene = bpy.context.scene
    scene.render.engine, scene.cycles.device = "CYCLES", "CPU"
    scene.render.threads_mode, scene.render.threads = "FIXED", 2
    cycles = scene.cycles
    cycles.samples, cycles.use_adaptive_sampling = samples, False
    cycles.use_denoising, cycles.denoiser, cycles.denoising_prefilter = True, "OPENIMAGEDENOISE", "FAST"
    cycles.max_bounces, cycles.diffuse_bounces, cycles.glossy_bounces = 4, 2, 3
    cycles.sample_clamp_indirect, cycles.caustics_reflective = 6, False
    scene.render.resolution_x, scene.render.resolution_y = WIDTH, HEIGHT
    scene.view_settings.view_transform = "AgX"
    scene.view_settings.look = "AgX - Medium High Contrast"
    scene.render.image_settings.file_format, scene.render.image_settings.color_depth = "PNG", "16"


def expose(stops: float) -> None:
    """Brightness of the picture, in stops."""
    bpy.context.scene.view_settings.exposure = stops


def render(path: str) -> None:
    """Render the scene into a PNG."""
    bpy.context.scene.render.filepath = path
    bpy.ops.render.render(write_still=True)


def place(mesh, name, material):
    """Put a mesh into the scene."""
    made = bpy.data.objects.new(name, mesh)
    bpy.context.collection.objects.link(made)
    made.data.materials.append(material.made)
    return made


def smooth(made, degrees):
    """Shade smoothly but for edges sharper than this."""
    for polygon in made.data.polygons:
        polygon.use_smooth = True
    made.data.set_sharp_from_angle(angle=math.radians(degrees))


def swept(name, profile, angles, radii, material, axis="z", inward=False, sharp=50.0, closed=True):
    """A skin round an axis: at angle j, profile point i lies at radius r_i + radii[j].

    u runs with the angle, v with the length of the profile.
    """
    profile, angles = np.asarray(profile, float), np.asarray(angles, float)
    along = np.r_[0, np.cumsum(np.linalg.norm(np.diff(profile, axis=0), axis=1))]
    along /= along[-1]
    m, n = len(profile), len(angles)
    r = profile[:, :1] + np.asarray(radii)[None, :]
    points = np.stack([r * np.cos(angles), r * np.sin(angles), np.repeat(profile[:, 1:], n, 1)], -1)
    if axis == "x":
        points = points[..., [2, 0, 1]]
    faces, uvs = [], []
    last = n if closed else n - 1
    for i in range(m - 1):
        for j in range(last):
            k = (j + 1) % n
            face = [i * n + j, i * n + k, (i + 1) * n + k, (i + 1) * n + j]
            u0, u1 = j / last, (j + 1) / last
            uv = [(u0, along[i]), (u1, along[i]), (u1, along[i + 1]), (u0, along[i + 1])]
            faces.append(face[::-1] if inward else face)
            uvs += uv[::-1] if inward else uv
    mesh = bpy.data.meshes.new(name)
    mesh.from_pydata((points.reshape(-1, 3) * MM).tolist(), [], faces)
    layer = mesh.uv_layers.new()
    layer.data.foreach_set("uv", np.array(uvs, np.float32).ravel())
    made = place(mesh, name, material)
    smooth(made, sharp)
    return made


def turned(name, profile, material, sides=256, **options):
    """A turned part: profile of (radius, height) all round."""
    angles = np.linspace(0, 2 * np.pi, sides, endpoint=False)
    return swept(name, profile, angles, np.zeros(sides), material, **options)


def circle(x, y, r, sides=96, uneven=0.0, seed=0):
    """A ring of points, as cast if uneven."""
    t = np.linspace(0, 2 * np.pi, sides, endpoint=False)
    radius = np.full(sides, float(r))
    rng = np.random.default_rng(seed)
    for k in range(2, 8):
        radius += uneven * r * rng.normal() / k * np.cos(k * t + rng.uniform(0, 6.28))
    return np.stack([x + radius * np.cos(t), y + radius * np.sin(t)], 1)


def rounded(x0, y0, x1, y1, r):
    """A rectangle with round corners."""
    out = []
    for x, y, start in (
        (x1 - r, y1 - r, 0),
        (x0 + r, y1 - r, 90),
        (x0 + r, y0 + r, 180),
        (x1 - r, y0 + r, 270),
    ):
        t = np.radians(np.linspace(start, start + 90, 12))
        out.append(np.stack([x + r * np.cos(t), y + r * np.sin(t)], 1))
    return np.concatenate(out)


def plate(name, outer, holes, thick, bevel, material, top=0.0):
    """A flat plate with holes and bevelled edges; its top lies at `top`."""
    curve = bpy.data.curves.new(name, "CURVE")
    curve.dimensions, curve.fill_mode = "2D", "BOTH"
    for ring in [outer, *holes]:
        spline = curve.splines.new("POLY")
        spline.points.add(len(ring) - 1)
        points = np.ones((len(ring), 4), np.float32)
        points[:, :2], points[:, 2] = np.asarray(ring) * MM, 0
        spline.points.foreach_set("co", points.ravel())
        spline.use_cyclic_u = True
    curve.extrude, curve.bevel_depth, curve.offset = (thick / 2 - bevel) * MM, bevel * MM, -bevel * MM
    curve.bevel_resolution = 2
    made = bpy.data.objects.new(name, curve)
    bpy.context.collection.objects.link(made)
    bpy.context.view_layer.update()
    mesh = bpy.data.meshes.new_from_object(made.evaluated_get(bpy.context.evaluated_depsgraph_get()))
    bpy.data.objects.remove(made)
    mesh.materials.clear()
    made = place(mesh, name, material)
    smooth(made, 30)
    made.location.z = (top - thick / 2) * MM
    return made


def sheet(name, width, height, material, at=(0.0, 0.0, 0.0), yaw=0.0):
    """A flat rectangle, its maps by uv."""
    a, b = width / 2 * MM, height / 2 * MM
    mesh = bpy.data.meshes.new(name)
    mesh.from_pydata([(-a, -b, 0), (a, -b, 0), (a, b, 0), (-a, b, 0)], [], [(0, 1, 2, 3)])
    layer = mesh.uv_layers.new()
    layer.data.foreach_set("uv", [0, 0, 1, 0, 1, 1, 0, 1])
    return move(place(mesh, name, material), at, yaw)


def move(made, at, yaw=0.0):
    """Place by its origin, turned about the vertical (degrees)."""
    made.location = Vector(at) * MM
    made.rotation_euler = (0, 0, math.radians(yaw))
    return made


def lamp(at, to, size, power, colour=(1, 0.86, 0.7)):
    """A square lamp of `size` mm that shines from one point to another."""
    light = bpy.data.lights.new("lamp", "AREA")
    light.energy, light.size, light.color = power, size * MM, colour
    made = bpy.data.objects.new("lamp", light)
    bpy.context.collection.objects.link(made)
    made.location = Vector(at) * MM
    made.rotation_euler = (Vector(to) - Vector(at)).to_track_quat("-Z", "Y").to_euler()


def camera(at, to, lens, fstop, roll=0.0, focus=None):
    """A phone's lens (7.6 mm sensor); it looks from one point to another."""
    data = bpy.data.cameras.new("camera")
    made = bpy.data.objects.new("camera", data)
    bpy.context.collection.objects.link(made)
    made.location = Vector(at) * MM
    back = (Vector(at) - Vector(to)).normalized()
    up = Vector((0, 0, 1)) if abs(back.z) < 0.995 else Vector((0, 1, 0))
    right = up.cross(back).normalized()
    made.rotation_euler = mathutils.Matrix((right, back.cross(right), back)).transposed().to_euler()
    made.rotation_euler = (
        made.rotation_euler.to_matrix() @ mathutils.Matrix.Rotation(math.radians(roll), 3, "Z")
    ).to_euler()
    data.sensor_fit, data.sensor_width, data.lens = "HORIZONTAL", 7.6, lens
    data.clip_start, data.clip_end = 0.01, 500
    data.dof.use_dof, data.dof.aperture_fstop = True, fstop / 10
    data.dof.focus_distance = (Vector(focus or to) - Vector(at)).length * MM
    bpy.context.scene.camera = made
    bpy.context.view_layer.update()
    return made


def somebody(seen_by, behind=190.0):
    """A dark figure behind the lens: metal has something believable to reflect."""
    shirt = Material("shirt", Base_Color=(0.035, 0.045, 0.07, 1), Roughness=0.9)
    made = sheet("somebody", 330, 420, shirt)
    made.location = seen_by.location + seen_by.matrix_world.to_3x3() @ Vector((0.4, -2.0, behind * MM))
    made.rotation_euler = seen_by.rotation_euler
    made.visible_shadow, made.visible_diffuse = False, False


def matrices(seen_by):
    """K, R and t (mm) in the convention x right, y down, z forward."""
    data = seen_by.data
    f = data.lens / data.sensor_width * WIDTH
    k = np.array([[f, 0, WIDTH / 2], [0, f, HEIGHT / 2], [0, 0, 1]])
    world = np.diag([1, -1, -1, 1]) @ np.array(seen_by.matrix_world.inverted())
    return k, world[:3, :3], world[:3, 3] / MM
