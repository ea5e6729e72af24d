"""One use case per verb: asks the traveler which readings are live and hands those to the stage."""
