# A large printer: posts, three rings, a bed that moves up and down.
frame { profile = "30x30-8" }
posts "leg" {
  left   = 0
  right  = 600
  front  = 0
  back   = 600
  bottom = 40
  top    = 900
}
ring "base" {
  within = leg
  bottom = 90
}
ring "crown" {
  within = leg
  top    = leg.top
}
ring "bed" {
  left    = 60
  right   = 540
  front   = 60
  back    = 540
  bottom  = 400
  corners = "pinwheel"
}
group "bed_lift" {
  members    = bed
  travel     = { along = "z", from = -240, to = 420 }
  kg         = 3
  carried_by = leg
}
foot { under = leg }
