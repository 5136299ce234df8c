"""What several views share: strings, heights, stamps, figures."""
