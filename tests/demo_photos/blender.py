"""The few things the scenes need of the renderer. Lengths are millimetres; 100 mm are one unit of it."""

import math

import bpy
import cv2
import mathutils
import numpy as np
from mathutils import Vector

MM = 0.01
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


def image(name, array):
    """A float array (row 0 on top) as an image of linear data."""
    array = np.asarray(array, np.float32)
    if array.ndim == 2:
        array = np.repeat(array[..., None], 3, 2)
    h, w = array.shape[:2]
    rgba = np.ones((h, w, 4), np.float32)
    rgba[..., :3] = array[::-1]
    made = bpy.data.images.new(name, w, h, alpha=False, float_buffer=True)
    made.colorspace_settings.name = "Non-Color"
    made.pixels.foreach_set(rgba.ravel())
    made.update()
    made.pack()
    return made


class Material:
    """One surface: constant inputs, maps, or noise of the renderer."""

    def __init__(self, name, **inputs):
        self.made = bpy.data.materials.new(name)
        self.made.use_nodes = True
        self.tree = self.made.node_tree
        self.inputs = self.tree.nodes["Principled BSDF"].inputs
        self.vector, self.bump = None, None
        for key, value in inputs.items():
            self.inputs[key.replace("_", " ")].default_value = value

    def node(self, kind, **settings):
        made = self.tree.nodes.new(kind)
        for key, value in settings.items():
            setattr(made, key, value)
        return made

    def link(self, output, to):
        self.tree.links.new(output, to)

    def on_uv(self):
        self.vector = self.node("ShaderNodeTexCoord").outputs["UV"]
        return self

    def on_plane(self, width, height):
        """Maps lie on the object's own xy plane, centred."""
        source, mapping = self.node("ShaderNodeTexCoord"), self.node("ShaderNodeMapping")
        mapping.inputs["Scale"].default_value = (1 / (width * MM), 1 / (height * MM), 1)
        mapping.inputs["Location"].default_value = (0.5, 0.5, 0)
        self.link(source.outputs["Object"], mapping.inputs["Vector"])
        self.vector = mapping.outputs["Vector"]
        return self

    def texture(self, name, array):
        node = self.node("ShaderNodeTexImage", image=image(f"{self.made.name} {name}", array))
        if self.vector:
            self.link(self.vector, node.inputs["Vector"])
        return node.outputs["Color"]

    def maps(self, colour=None, rough=None, metal=None, height=None, relief=0.05, coat=None):
        """Maps of the surface; `relief` is the height in mm that 1 in the height map stands for."""
        given = {"Base Color": colour, "Roughness": rough, "Metallic": metal, "Coat Weight": coat}
        for key, array in given.items():
            if array is not None:
                low = 0.07 if key == "Roughness" else 0.003 if key == "Base Color" else 0
                self.link(self.texture(key, np.clip(array, low, 1)), self.inputs[key])
        if height is not None:
            self.bump = self.node("ShaderNodeBump")
            self.bump.inputs["Distance"].default_value = relief * MM
            self.link(self.texture("height", height), self.bump.inputs["Height"])
            self.link(self.bump.outputs["Normal"], self.inputs["Normal"])
        return self

    def droplets(self, height, relief=0.55):
        """Relief of a film of oil on top of the surface."""
        bump = self.node("ShaderNodeBump")
        bump.inputs["Distance"].default_value = relief * MM
        self.link(self.texture("film", height), bump.inputs["Height"])
        self.link(bump.outputs["Normal"], self.inputs["Coat Normal"])
        return self

    def _noise(self, feature, detail, distortion=0.0, seed=0.0):
        source, mapping = self.node("ShaderNodeTexCoord"), self.node("ShaderNodeMapping")
        mapping.inputs["Location"].default_value = (seed * 3.1, seed * 1.7, seed)
        made = self.node("ShaderNodeTexNoise")
        made.inputs["Scale"].default_value = 1 / (feature * MM)
        made.inputs["Detail"].default_value, made.inputs["Roughness"].default_value = detail, 0.6
        made.inputs["Distortion"].default_value = distortion
        self.link(source.outputs["Object"], mapping.inputs["Vector"])
        self.link(mapping.outputs["Vector"], made.inputs["Vector"])
        return made.outputs["Fac"]

    def mottled(self, feature, stops, seed=0.0, distortion=0.0, into="Base Color"):
        """Colour from noise: `stops` are (position, (r, g, b))."""
        ramp = self.node("ShaderNodeValToRGB")
        while len(ramp.color_ramp.elements) < len(stops):
            ramp.color_ramp.elements.new(0.5)
        for element, (position, colour) in zip(ramp.color_ramp.elements, stops, strict=True):
            element.position, element.color = position, (*colour, 1)
        self.link(self._noise(feature, 7, distortion, seed), ramp.inputs["Fac"])
        self.link(ramp.outputs["Color"], self.inputs[into])
        return self

    def grainy(self, feature, relief):
        """Relief from noise, of cast or forged skin."""
        bump = self.node("ShaderNodeBump")
        bump.inputs["Distance"].default_value = relief * MM
        self.link(self._noise(feature, 5), bump.inputs["Height"])
        into = self.bump.inputs["Normal"] if self.bump else self.inputs["Normal"]
        self.link(bump.outputs["Normal"], into)
        return self


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


def workshop(strength, turn, seed):
    """A made-up workshop all round: tubes on the ceiling, a window, shelves."""
    world = bpy.data.worlds.new("workshop")
    bpy.context.scene.world = world
    world.use_nodes = True
    tree = world.node_tree
    source, mapping = tree.nodes.new("ShaderNodeTexCoord"), tree.nodes.new("ShaderNodeMapping")
    mapping.inputs["Rotation"].default_value = (0, 0, math.radians(turn))
    surround = tree.nodes.new("ShaderNodeTexEnvironment")
    surround.image = image("workshop", panorama(seed))
    tree.links.new(source.outputs["Generated"], mapping.inputs["Vector"])
    tree.links.new(mapping.outputs["Vector"], surround.inputs["Vector"])
    tree.nodes["Background"].inputs["Strength"].default_value = strength
    tree.links.new(surround.outputs["Color"], tree.nodes["Background"].inputs["Color"])


def panorama(seed, w=1024):
    """The surround as an equirectangular picture, linear."""
    rng = np.random.default_rng(seed)
    azimuth, elevation = np.meshgrid(
        (np.arange(w) + 0.5) / w * 360, 90 - (np.arange(w // 2) + 0.5) / (w // 2) * 180
    )
    out = np.zeros((w // 2, w, 3), np.float32)
    out[:] = (0.16, 0.145, 0.125)
    out[elevation > 35], out[elevation < -12] = (0.24, 0.225, 0.20), (0.07, 0.062, 0.055)

    def box(left, wide, low, high, colour):
        out[((azimuth - left) % 360 < wide) & (elevation > low) & (elevation < high)] = colour

    for _ in range(170):
        low, value = rng.uniform(-35, 22), rng.uniform(0.01, 0.33) ** 1.5 * 2
        tint = value * np.array([1, rng.uniform(0.7, 1), rng.uniform(0.5, 1.05)])
        box(rng.uniform(0, 360), rng.lognormal(2.0, 0.7), low, low + rng.lognormal(1.9, 0.6), tint)
    box(120, 48, -8, 38, (3.6, 3.9, 4.3))
    box(143, 2, -8, 38, (0.1, 0.1, 0.1))
    box(120, 48, 14, 15.5, (0.1, 0.1, 0.1))
    slope = 1 / np.tan(np.radians(np.clip(elevation, 3, 90)))
    x, y = slope * np.cos(np.radians(azimuth)), slope * np.sin(np.radians(azimuth))
    up = elevation > 3
    for left, right, at in ((-1.1, 0.1, 0.55), (0.35, 1.5, 0.55), (-1.3, 0, -0.75), (0.3, 1.6, -0.75)):
        tube = up & (x > left) & (x < right) & (np.abs(y - at) < 0.045)
        shade = up & (x > left - 0.05) & (x < right + 0.05) & (np.abs(y - at) < 0.16) & ~tube
        out[tube], out[shade] = (30, 27.5, 23.5), (1.4, 1.3, 1.15)
    return cv2.GaussianBlur(out, (0, 0), w / 2048 * 1.2)
