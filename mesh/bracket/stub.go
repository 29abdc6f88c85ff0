package bracket

func makeInside(m *model)                {}
func makeOutside(m *model)               {}
func makeBrace(m *model)                 {}
func makeCap(m *model)                   {}
func makeCover(m *model)                 {}
func makeCable(m *model)                 {}
func makePanel(m *model)                 {}
func makePad(m *model)                   {}
func makeCaster(m *model)                {}
func makeTap(m *model)                   {}
func makeSpacer(m *model)                {}
func makeSquare(m *model)                {}
func buildJig(s Spec) ([]*Result, error) { return nil, nil }
