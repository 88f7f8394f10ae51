package plantest

// ByHand is a job that uses every table that figures come from.
const ByHand = `title = "by hand"
cavities = 2

[head]
file = "ball.stl"
eye = [0, 9.5, 0]

[hook]
name = "demo hook"
wire = 1
eye_inside = 2
leg = 8
shank = 24
gape = 9
point = 6

[[keeper]]
name = "spike"
wire = 0.8
points = [[10, 0, 0], [20, 0, 0]]
mass = 0.05

[weight]
target = "3/8 oz"

[metal]
composition = { lead = 96, antimony = 4 }
density_range = ["11 g/cm3", "11.1 g/cm3"]
shrink = "0.8 %"
shrink_range = ["0.7 %", "1 %"]
fill_factor = 0.98
fill_range = [0.97, 0.99]
liquidus = 300
latent = 25

[casting]
superheat = 40
mold = 60
dross = 4
heel = 200
pot = "3 kg"
heads = 100
yield = 90
life = [20, 25]

[rubber]
name = "demo rubber"
cure = "tin"
ratio = "100:3"
density_a = 1.36
density_b = 1.02
shrink = "0.4 %"
shrink_range = ["0.2 %", "0.6 %"]
pot_life = "40 min"
demold = "20 h"
rest = "4 d"
heat_continuous = 250
heat_short = 320
waste = 5
residue = 10
brush = 0.5
scale = 0.1
vacuum = true

[sprue]
gate_width = 3
gate_thickness = 2

[buying]
molds = 3
have = 100
shelf_life = "9 months"

[[kit]]
name = "can"
mass = "1 kg"
price = 45

[[kit]]
a = "250 g"
price = 14.5

[evening]
start = "2026-11-27 18:30"
room = 13
mix = "5 min"
deair = "6 min"
pour = "9 min"
cup = "700 ml"
post_cure = "2 h"
post_cure_at = 45

[plastic]
name = "demo plastic"
softens = 70
density = 1.25
solid = 80

[cost]
currency = "coins"
metal = 8
hook = 0.3
keeper = 0.09
plastic = 20
other = 1.5
shop = 1.9
`
