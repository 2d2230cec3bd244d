"""Directions a second of Embree's any-hit over a mesh from one lamp, one thread: the middles of 6 x SIZE x SIZE squares of a cube.

python benches/shadow_peer.py MESH.stl FORWARD RIGHT UP SIZE

Prints how many directions are hidden, the directions a second, and the solid angle in sr of squares whose neighbour differs,
which sampling of this fineness leaves open; building the tree is not timed.
"""

import sys
import time

import numpy
from embreex import rtcore_scene
from embreex.mesh_construction import TriangleMesh

mesh, forward, right, up, size = sys.argv[1], *map(float, sys.argv[2:5]), int(sys.argv[5])
record = numpy.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("rest", "<u2")])
corners = numpy.fromfile(mesh, dtype=record, offset=84)["corners"].copy()
corners[:, :, 1] *= -1  # The nose along x and up along z put right against y.
scene = rtcore_scene.EmbreeScene()
TriangleMesh(scene, corners)

middle = ((numpy.arange(size) + 0.5) * 2 / size - 1).astype(numpy.float32)
v, u = numpy.meshgrid(middle, middle, indexing="ij")
w = numpy.ones_like(u)
faces = [(w, u, v), (-w, u, v), (u, w, v), (u, -w, v), (u, v, w), (u, v, -w)]
directions = [numpy.stack(face, axis=-1).reshape(-1, 3).astype(numpy.float32) for face in faces]
directions = [d / numpy.linalg.norm(d, axis=1, keepdims=True) for d in directions]
origins = numpy.tile(numpy.array([[forward, right, up]], dtype=numpy.float32), (size * size, 1))
scene.run(origins[:1000], directions[0][:1000], query="OCCLUDED")
area = 4 / size**2 / (1 + u**2 + v**2) ** 1.5  # The solid angle of a small square of a face.
hidden, spent, undecided = 0, 0.0, 0.0
for d in directions:
    begin = time.perf_counter()
    answer = scene.run(origins, d, query="OCCLUDED")
    spent += time.perf_counter() - begin
    hidden += int((answer != -1).sum())
    covered = (answer != -1).reshape(size, size)
    edge = numpy.zeros_like(covered)
    edge[1:] |= covered[1:] != covered[:-1]
    edge[:, 1:] |= covered[:, 1:] != covered[:, :-1]
    undecided += float(area[edge].sum())
print(hidden, 6 * size * size / spent, undecided)
