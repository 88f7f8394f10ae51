package pourplan

// HookDrawing shows in text where a hook's measures are taken; the page of a build has it drawn
// to scale, with the figures of its own hook.
const HookDrawing = `
         over_eye                           over_point
        |<------>|                 |<------------------------>|
  --      .----.                                                        --
  ^      /  __  \                  |<------- point ------->|             ^
  |     |  /  \  | -- --                                                 |
  |     |  \__/  |     ^        <==========================.       --    |
  |      \      /      |                                    \      ^     |
over      '-..-'       |                                     \     |   over
_leg        ||        leg                                     |  gape  _gape
  |         ||         |                                      |    |     |
  |         ||         |                                     /     |     |
  |         |'---------v------------------------------------'      v     v
  v          \ - - - - -- - - - - - - - - - - - - - - - - -/       --
  --          '-------------------------------------------'             --
             |<--------------- shank ---------------->|
        |<---------------------- over_length ---------------->|

  eye_inside    the opening of the eye
  over_eye      over its ring: eye_inside and two wires
  leg           from the eye's centre to the axis of the shank
  over_leg      from the underside of the shank to the top of the eye
  shank         from the axis of the leg to where the bend begins
  over_length   along the shank, from the front of the eye to the end of the bend
  gape          between the axes of shank and point
  over_gape     from the underside of the shank to the top of the point
  point         from where the bend begins to the tip
  over_point    from the tip to the outside of the bend
  leg_angle     between leg and shank: 90° here; where the eye leans forward, more

  Names with over_ are what a caliper shows over the outside; give those or the
  others, not both of one measure. wire is the wire's own thickness.
`
