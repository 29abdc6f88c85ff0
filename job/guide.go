package job

// WriteGuide writes the assembly guide into a folder and returns the paths.
func (j *Job) WriteGuide(out string, o StepsOptions) ([]string, error) { return nil, nil }
