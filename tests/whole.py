"""One installation that uses every part of the file, for tests of hard input."""

WHOLE = """
installation: whole
invented: yes
units: us
site: {standard: asce7-16, S_DS: 0.9, S_1: 0.4, height_ratio: 0.2, importance: 1.0, building: {period: 0.5 s}}
room:
  length: 30 ft
  width: 24 ft
  sill: 2 in
  door: 32 in
  use: dwelling
  floor: {kind: concrete floor, live_load: 50 psf, live_load_source: a drawing}
  drains: [{bore: 2 in, grate: 4 in, blocked: 50 %, at: 3 ft x 3 ft}]
  sockets: [{name: strip, height: 6 in}]
  next: [{name: hall, length: 9 ft, width: 4 ft, door: 30 in, sill: 1 in}]
racks:
  north:
    bays: 2
    bay_length: 4 ft
    width: 30 in
    deck_height: 28 in
    post: 4x4 hem-fir No.2 treated
    beam: 2x8 douglas fir-larch No.2
    joist: {size: 2x6, spacing: 12 in, seat: on beams}
    deck: 23/32 in plywood
    beam_seat: on the side
    beam_runs: whole length
    upper_tiers: [{deck_height: 62 in}]
    rails: [{height: 84 in, member: 2x4, face: all}]
    braces:
      - {face: left, kind: x, member: 2x4 hem-fir No.2, bolted_at_middle: yes}
      - {face: right, kind: single, member: 2x4 hem-fir No.2}
      - {face: left, storey: 2, member: 2x4 hem-fir No.2}
      - {face: right, storey: 2, member: 2x4 hem-fir No.2}
    panels: [{face: back, bay: 1, thickness: 15/32 in, nail: 0.131 in, edge_spacing: 6 in}]
    gussets: [{face: front, bay: 2, leg: 14 in, thickness: 15/32 in, nail: 0.131 in x 2.5 in, nails: 8}]
    wall_ties: [{height: 28 in, count: 3, into: stud, gypsum: 1/2 in, diameter: 3/8 in, length: 5 in}]
    wall_gap: 2 in
    feet: {anchored: yes, tension: 700 lb, shear: 600 lb, source: a table}
    kit: 20 lb
    wet: yes
    at: 2 ft x 12 ft
    friction: 0.3 to 0.5
    pan: {length: 11 ft, width: 5 ft, height: 3 in}
  first: &none
    bays: 1
    bay_length: 4 ft
    width: 24 in
    deck_height: 24 in
    post: 4x4 hem-fir No.2
    beam: 2x8 hem-fir No.2
    joist: {size: 2x6, spacing: 12 in}
    deck: 23/32 in plywood
    at: 20 ft x 2 ft
  second:
    bays: 1
    bay_length: 4 ft
    width: 24 in
    deck_height: 24 in
    post: 4x4 hem-fir No.2
    beam: 2x8 hem-fir No.2
    joist: {size: 2x6, spacing: 12 in}
    deck: 23/32 in plywood
    joined_to: {rack: first, fasteners: {kind: through-bolt, diameter: 1/2 in, length: 4 in, count: 2}}
vessels:
  - {name: cress bed, kind: bed, on: north, offset: 3 in, length: 7 ft, width: 28 in, depth: 11 in, water: 8 in, fill: gravel, fill_depth: 10 in, sides: 2x12 hem-fir No.2, ties: 2}
  - {name: trays, kind: bed, on: north, tier: 2, length: 6 ft, width: 26 in, depth: 5 in, water: 3 in, fill: {porosity: 50 %, grain_density: 1200 kg/m3}}
  - {name: carp tank, kind: tank, diameter: 4 ft, depth: 34 in, water: 28 to 29 in, at: 14 ft x 4 ft, wall: 1/4 in plastic, kit: 8 lb, lid: {fastenings: 12, allowable: 200 lb, source: a sheet, opening: 4 in x 4 in, mass: 20 lb}, pan: {length: 6 ft, width: 6 ft, height: 4 in}}
  - {name: high tank, kind: tank, length: 30 in, width: 18 in, depth: 20 in, water: 17 in, stand: {height: 30 in, mass: 60 lb, footprint: 32 in x 20 in}, anchors: {count: 4, tension: 200 lb, shear: 200 lb, source: a table}}
  - {name: spare, kind: barrel, mass: 400 lb, centre_of_mass: 17 in, footprint: 24 in x 24 in, holds: 40 gal, component: {a_p: 1.0, R_p: 1.5, reason: a letter}}
  - {name: pot, kind: bed, on: first, length: 3 ft, width: 20 in, depth: 8 in, water: 5 in, fill: sand}
  - {name: box, kind: bed, on: second, length: 3 ft, width: 20 in, depth: 8 in, water: 5 in, fill: perlite}
joints:
  - {rack: north, where: beam to post, fasteners: {kind: through-bolt, diameter: 1/2 in, length: 6 in, count: 2, spread: 3 in, end_distance: 4 in}, wet: yes}
  - {rack: north, where: joist to beam, fasteners: {kind: framing tie, nails: 4 + 4, nail: 0.148 in x 1.5 in, steel: 1.2 mm}}
  - {rack: north, where: brace to post, fasteners: {kind: lag screw, diameter: 3/8 in, length: 4 in, allowable: 250 lb, allowable_for: normal, source: a table}}
  - {rack: first, where: beam to post, fasteners: {kind: wood screw, diameter: 0.216 in, length: 3 in, count: 4, columns: 2, gauge: 1.5 in, spread: 4 in}}
pumps:
  - {name: riser, from: carp tank, to: cress bed, flow: 500 gal/h ± 20 %, intake: 6 in, outlet: 12 in, pipe: 3/4 in, length: 9 ft, bends: 3, material: hose, slack: 4 in, check_valve: yes}
  - {name: small, from: carp tank, to: high tank, curve: [0 gal/h at 9 ft, 200 gal/h at 4 ft], intake: 8 in, outlet: 21 in, float_switch: yes, anti_siphon: yes}
pipes:
  - {name: drop, from: cress bed, to: carp tank, bore: 1.5 in, intake: 8 in, outlet: 33 in, length: 5 ft, blocked: 10 %, passes: wall}
  - {name: weir, from: high tank, to: carp tank, bore: 1 in, intake: 17 in, outlet: 33 in, length: 6 ft}
supplies:
  - {name: hose, to: carp tank, flow: 4 gal/min, unattended: 30 min, float_valve: no}
hung:
  - {name: lamp, from: north, rail: 1, mass: 20 lb, drop: 12 in, clearance: 14 in, over: cress bed, above_water: 20 in, hangers: 2, allowable: 60 lb, source: a sheet}
exposure: {below: own room, flooring: vinyl, water: used, currency: USD, costs: {low: 4.50 / ft2, high: 16 / ft2}, deposit: 1500, liability_limit: 100000}
prices: {door curb: {low: 8, high: 15}, hour of work: 40}
doubt: {shaking: 40 %, water: 1 in, hazard: [0.3 once in 50 years, 1 once in 500 years]}
""".replace(" &none", "")
