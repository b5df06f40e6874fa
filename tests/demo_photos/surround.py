"""What bright metal mirrors: a made-up workshop all round."""

import math

import bpy
import cv2
import numpy as np

from .material import image


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
