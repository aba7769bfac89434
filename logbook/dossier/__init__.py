"""One page on one watch for a watchmaker: its words and numbers, its drawings, HTML or Markdown."""
