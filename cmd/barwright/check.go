package main

import (
	"fmt"

	"barwright/check"
	"barwright/job"

	"github.com/spf13/cobra"
)

func newCheck(s *streams) *cobra.Command {
	var c common
	var explain string
	cmd := &cobra.Command{
		Use:   "check FRAME",
		Short: "Place, join and check; print findings and measures",
		Args: func(cmd *cobra.Command, args []string) error {
			if explain != "" {
				return nil
			}
			return oneFrame(cmd, args)
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			if explain != "" {
				return explainRule(s, explain)
			}
			j, err := c.open(s, args[0])
			if err != nil {
				return err
			}
			if c.json || c.quiet {
				return c.finish(s, j, nil)
			}
			job.WriteFindings(s.out, j.Findings, colour(s.out))
			job.WriteMeasures(s.out, j.Frame)
			fmt.Fprintln(s.out, job.Summary(j.Frame, j.Findings))
			if j.Failed() {
				return errFound
			}
			return nil
		},
	}
	c.bind(cmd, false)
	cmd.Flags().StringVar(&explain, "explain", "", "print what a rule finds and what to do about it")
	return cmd
}

// explainRule prints the page of a rule.
func explainRule(s *streams, name string) error {
	list := ""
	for _, r := range append(check.Rules(), job.LimitRules()...) {
		if r.Name == name {
			_, err := fmt.Fprintln(s.out, r.Explain)
			return err
		}
		list += " " + r.Name
	}
	return usage("there is no rule %q. The rules are:%s", name, list)
}
