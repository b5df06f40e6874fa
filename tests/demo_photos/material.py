"""Surfaces for the renderer: constant inputs, maps made elsewhere, or noise of its own."""

import bpy
import numpy as np

MM = 0.01
"""Units of the renderer in a millimetre."""


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
