"""stages"""
