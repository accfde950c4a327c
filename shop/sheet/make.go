package sheet

import (
	"slices"

	"trunnion/shop/wording"
)

// New makes a sheet.
func New(src Source) (*Sheet, error) {
	if src.Job == nil || src.Job.Car == nil || src.Answer == nil {
		return nil, ErrNoCar
	}
	m := &maker{Source: src, tell: wording.New(src.Answer, src.System)}
	if src.Job.Handover != nil {
		m.hand = *src.Job.Handover
	}
	if err := m.choose(); err != nil {
		return nil, err
	}
	m.sheet = &Sheet{
		Format: Format, Program: src.Program, Number: src.Job.Info.Number, Fingerprint: src.Job.SHA256, Printed: src.Printed,
		Build: m.build.ID, Load: m.Load, Units: wording.SystemName(src.System), Workshop: src.Workshop, Missing: []string{}, Unchecked: []string{}, Head: []Pair{}, Sections: []Section{},
		Find: src.Find,
	}
	if m.sheet.Workshop.Name == "" {
		m.sheet.Workshop.Name = src.Job.Info.Workshop
	}
	if m.sheet.Find == "" {
		m.sheet.Find = "job " + m.sheet.Number + ", " + m.sheet.Fingerprint[:16]
	}
	m.head()
	add := func(id, title string, parts ...Part) {
		parts = slices.DeleteFunc(parts, Part.empty)
		if len(parts) > 0 {
			m.sheet.Sections = append(m.sheet.Sections, Section{ID: id, Title: title, Parts: parts})
		}
	}
	add("answer", "Request and answer", m.words(), m.inShort(), m.paragraph(), m.answer(), m.findings(false))
	add("corners", "Heights and corner loads", m.plan())
	add("travel", "Travel at each wheel", m.strips(), m.travel())
	add("fitted", "Parts fitted", m.fitted())
	add("lamps", "Alignment, lamps and sensors", m.alignment(), m.lamps())
	add("presets", "Presets", m.presets(), m.wayBack())
	add("limits", "Rules", m.limits())
	add("normal", "What is normal and what is not", m.normal())
	add("bounds", "Setting limits", m.bounds())
	add("again", "Return visits", m.again())
	add("torques", "Torques", m.torques())
	add("workshop", "For the workshop", m.forWorkshop()...)
	add("checks", "Final checks", Part{Checks: m.checks()}, m.opened())
	add("cautions", "Cautions", Part{List: m.cautions()})
	add("signed", "Signatures", m.signed())
	m.card()
	m.sheet.Draft = len(m.sheet.Missing) > 0
	return m.sheet, nil
}
