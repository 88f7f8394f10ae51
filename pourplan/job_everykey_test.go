package pourplan

import "testing"

// Every key that a table documents must be readable, and be told apart.
func TestEveryKeyReads(t *testing.T) {
	read(t, `
title = "all"
turn = 90
[head]
file = "a.stl"
unit = "in"
nose = "+x"
back = "+z"
left = "+y"
parting = 0.1
eye = ["2 mm", 0, 0.5]
gate = [0, 0, 0]
[hook]
name = "own"
wire = "0.04 in"
eye_inside = 2
leg = 8
leg_angle = 60
shank = 20
gape = 8
point = 5
fit = 0.05
points = [[0, -8], ["20 mm", -8], [24, -4], [20, 0]]
bend = "1/16 in"
eye_across = true
eye_rubber = 2
leaves = true
mass = "0.4 g"
density = 7.85
[[keeper]]
name = "spike"
wire = 0.8
points = [["12 mm", 0, 0], [0.8, 0.1, 0]]
bend = 1
count = 2
step = [0, "3 mm", 0]
leaves = true
fit = 0.05
mass = 0.1
density = 7.9
[[keeper]]
wire = 0.8
in_hook = [[20, -8], [30, -8]]
[weight]
target = "3/8 oz"
of = "metal"
anchor = "shank"
wall = 0.8
[metal]
composition = { tin = 42, bismuth = 58 }
density = 8.56
density_range = [8.5, 8.6]
shrink = "0.17 %"
shrink_range = [0.1, 0.2]
fill_factor = 0.99
fill_range = [0.97, 1]
liquidus = "139 C"
solidus = "138 C"
latent = 44.8
[casting]
superheat = "54 F"
pour = 180
mold = "120 F"
dross = 4
heel = "1/2 lb"
heads = 100
yield = "80 %"
life = [15, 40]
pot = "10 lb"
[rubber]
preset = "platinum 1:1"
name = "own rubber"
cure = "platinum"
ratio = "10:1"
density_a = 1.1
density_b = 1.0
shrink = 0.1
shrink_range = [0, 0.1]
expansion = 250
expansion_range = [200, "300 ppm/K"]
pot_life = "45 min"
demold = "16 h"
rest = "1 d"
heat_continuous = 200
heat_short = 250
conductivity = 0.25
specific_heat = 1.4
waste = 6
residue = 10
brush = 0.4
vacuum = true
scale = "0.5 g"
b_tolerance = "5 %"
hardness = 30
[layout]
rows = 1
alternate = true
least = true
[frame]
floor = 2
wall = 2
draft = "2 deg"
corner = 3
over = 8
to_wall = 10
between = 8
pitch = 30
freeboard = 3
pry_tab = 4
[keys]
count = 4
diameter = 7
depth = 2
clearance = 0.2
clear = 3
[sprue]
mouth = 12
throat = 4
length = 16
gate_width = 3
gate_thickness = 2
gate_length = 2
[runner]
diameter = 5
rise = 3
[vents]
width = 1
depth = 0.5
count = 1
[marking]
lines = ["A", "B"]
height = 5
relief = 0.5
[finish]
seal_coat = 0.08
powder = "4 mil"
powder_density = 1.6
bake = 110
socket = 4.5
stick_eye = "4 mm"
[[coat]]
kind = "clear"
thickness = 0.12
coats = 2
density = 1.15
bake = 60
bake_time = "30 min"
stays = 90
after_eyes = true
[print]
nozzle = 0.4
gap = 5
layer = 0.2
step = 0.08
bed_x = 220
bed_y = 220
bed_high = 250
[checks]
air = 1
undercut = 2
rubber = 1
overhang = "50 deg"
gap = 0.2
flash = 2
[output]
folder = "out"
tolerance = 0.05
paper = "letter"
[[cavity]]
name = "one"
count = 1
turn = 10
target = 12
without_hook = true
`)
}
