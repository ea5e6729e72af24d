"""stages/diagnose"""
