package job

// flat has bars that show one or two slots, side by side under plates: as wide as each other, and a narrow one on a wide one.
const flat = `
frame {
  profile = "PROFILE"
  joining = "printed-plate"
}
member "front" {
  left   = 0
  right  = 900
  front  = 0
  bottom = 100
  turn   = 90
}
member "back" {
  left   = 0
  right  = 900
  front  = 600
  bottom = 100
  turn   = 90
}
member "between" {
  mid_x  = 250
  front  = front.back
  back   = back.front
  top    = front.top
  turn   = 90
}
member "narrow" {
  mid_x   = 640
  front   = front.back
  back    = back.front
  top     = front.top
  profile = "NARROW"
}
member "outward" {
  mid_x  = 250
  front  = back.back
  length = 300
  along  = "y"
  top    = front.top
  turn   = 90
}
member "onward" {
  left   = front.right
  length = 400
  along  = "x"
  mid_y  = front.mid_y
  bottom = 100
  turn   = 90
}
`
