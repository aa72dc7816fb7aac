package cli

type serveCmd struct{}

func (c *serveCmd) Run(*session) error { return nil }

type demoCmd struct{}

func (c *demoCmd) Run(*session) error { return nil }
