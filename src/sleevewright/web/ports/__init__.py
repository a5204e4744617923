"""Pages of the ports: their map, the rubbing, the paper, the view into the bore."""
