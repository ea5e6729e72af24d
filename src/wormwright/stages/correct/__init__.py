"""stages/correct"""
