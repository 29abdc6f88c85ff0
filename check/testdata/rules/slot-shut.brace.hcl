# Two diagonals of one group, joined by their sides to posts outside of it: their outer boxes hold each other's ends, the bars do not
# come near them.
# case: silent
frame {
  profile = "30x30-8"
  joining = "angle-bracket"
}
member "base" {
  left   = 0
  right  = 2400
  front  = 0
  bottom = 0
}
member "post" {
  left   = 0
  front  = 0
  bottom = base.top
  top    = 900
}
brace "flat" {
  from = { on = base, at = 800 }
  to   = { on = post, at = 430 }
}
brace "low" {
  from = { on = base, at = 1250 }
  to   = { on = post, at = 750 }
}
group "stays" {
  members = [flat, low]
}
