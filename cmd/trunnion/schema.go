package main

import "trunnion/shop/jobfile"

type schemaCommand struct{}

// Run prints the JSON Schema of a job.
func (c *schemaCommand) Run(s streams) error {
	_, err := s.out.Write(jobfile.Schema())
	return err
}
