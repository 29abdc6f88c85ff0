# Two posts on a base with braces, plates over their joints.
frame { profile = "30x30-8" }
ring "base" {
  left   = 0
  right  = 900
  front  = 0
  back   = 500
  bottom = 60
}
member "post" {
  left   = 0
  front  = 0
  bottom = base.top
  top    = 900
}
member "post2" {
  right  = 900
  front  = 0
  bottom = base.top
  top    = 900
}
member "beam" {
  left   = 0
  right  = 900
  front  = 0
  bottom = 900
}
brace "stay" {
  from    = { on = post, at = 400 }
  to      = { on = base.front_rail, at = 400 }
  joining = "plate"
}
brace "stay2" {
  from    = { on = post2, at = 400 }
  to      = { on = base.front_rail, at = 500 }
  joining = "plate"
}
foot {
  under = [base.left_rail, base.right_rail]
  at    = [60, 380]
}
